// Spanish: telling people.
import type { NotifyWords } from "./words-form.ts";

const CALLS = { pour: "aplicar", wait: "esperar", abrade: "lijar", finished: "terminado" } as const;

export const wordsEs: NotifyWords = {
  taken: (by) => (by === null ? "Alguien se ocupa." : `${by} se ocupa.`),
  snoozed: (by, until) => `${by ?? "Alguien"} la aplazó${until === null ? "" : ` hasta las ${until}`}.`,
  unanswered: (times) => (times === 1 ? "Nadie ha contestado." : `Nadie ha contestado, ${times} veces.`),
  several: (site, count) => `${site}: ${count} cosas que saber`,
  andMore: (count) => `y ${count} más`,
  allWell: (site) => `${site}: ninguna alarma abierta`,
  notAllWell: (site, open) => `${site}: ${open === 1 ? "una alarma abierta" : `${open} alarmas abiertas`}`,
  serverTroubled: "El propio servidor tiene una avería: vea su página de estado.",
  zone({ name, call, margin, lowest, lowestAt }) {
    const word = call === null ? "sin dictamen aún" : CALLS[call];
    const now = margin === null ? "margen desconocido" : `margen ${margin}`;
    const ahead = lowest === null ? "" : `, mínimo previsto ${lowest}${lowestAt === null ? "" : ` a las ${lowestAt}`}`;
    return `${name}: ${word}, ${now}${ahead}`;
  },
  noZones: "No hay ninguna zona.",
  test: {
    title: "Nightslab: una prueba",
    body: (name) => `Así le llega una alarma a ${name}. No pasa nada y no hay nada que hacer.`,
  },
  gone: {
    title: "Nightslab: un aparato ya no suena",
    body: (device) => `${device} ya no recibe mensajes de aquí. Abra Nightslab en él y permita que vuelva a sonar.`,
  },
  openLink: "Véalo:",
  acknowledgeLink: "Me ocupo yo (pregunta una vez más, sirve 12 horas):",
  footer:
    "Los límites son los escritos a partir de la ficha. Primero van las fichas del producto, las normas locales y el oficio autorizado.",
};
