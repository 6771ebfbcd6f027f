// Spanish: calendars.
import type { CalendarWords } from "./words-form.ts";

const SLOW = "Por el lado lento del pronóstico, según las horas impresas en la ficha. No es promesa.";

export const calendarWordsEs: CalendarWords = {
  locale: "es-MX",
  title: (site) => `${site}: horas del piso`,
  summary: {
    opens: (zone, coat) => `${zone}: abre la ventana de la mano ${coat}`,
    closes: (zone, coat) => `${zone}: cierra la ventana de la mano ${coat}`,
    "start-by": (zone, coat) => `${zone}: último inicio de la mano ${coat}`,
    back: (zone, coat) => `${zone}: volver para aplicar la mano ${coat}`,
    abrade: (zone, coat) => `${zone}: volver para lijar antes de la mano ${coat}`,
    "walk-on": (zone) => `${zone}: pisar, no antes`,
    traffic: (zone) => `${zone}: tránsito, no antes`,
    water: (zone) => `${zone}: ya aguanta rocío y agua, no antes`,
  },
  notBefore: (when) => `No antes de ${when}.`,
  by: (when) => `A más tardar ${when}.`,
  chance: (share) => `Probabilidad ${share}.`,
  advice: {
    opens: "Para entonces la mano está dura, según lo previsto.",
    closes: "Después hay que lijar primero.",
    "start-by": "Si se empieza más tarde, el último metro no queda a tiempo.",
    back: "Según lo previsto ahora. Decide el dictamen de esa hora.",
    abrade: "Según lo previsto ahora. Decide el dictamen de esa hora.",
    "walk-on": SLOW,
    traffic: SLOW,
    water: SLOW,
  },
  look: "Mire el tablero antes de salir.",
};
