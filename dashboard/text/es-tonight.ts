// Spanish texts of the page of the night.
import type { RiskFacts, TonightText } from "./en-tonight.ts";

const perhaps = (before: string, said: string | null, after = "") => (said === null ? "" : `${before}${said}${after}`);
const limit = (f: RiskFacts) => perhaps("; límite ", f.limit);
const chance = (f: RiskFacts) => perhaps(" Probabilidad de unos ", f.chance, ".");

export const esTonight: TonightText = {
  tonight: "Esta noche",
  morning: "Esta mañana",
  sides: "Qué parte de la noche",
  until: (at) => `Cada zona hasta las ${at}, la peor primero.`,
  since: (at) => `Desde ${at}.`,
  asOf: (at) => `A las ${at}, sin renovar desde entonces.`,
  onCall: "De guardia",
  onCallThen: ", luego ",
  onCallNobody: "Nadie está de guardia: una alarma va a todos los que cuidan esta obra.",
  onCallNobodyAtAll: "A nadie se le avisa de una alarma en esta obra.",
  onCallUnknown: "No se sabe ahora quién está de guardia.",
  openAlarms: (n) => (n === 0 ? "Sin alarmas abiertas" : n === 1 ? "1 alarma abierta" : `${n} alarmas abiertas`),
  alarmsUnknown: "No se sabe ahora qué alarmas hay abiertas",
  before: "Antes de irse",
  beforeNothing: "Nada apremia.",
  doors:
    "Cierre puertas, huecos y lonas: el frío entra primero por el piso. Donde arde un quemador, deje abierto el aire fresco que necesita.",
  silent: (node, since) =>
    since === null
      ? `El sensor ${node} nunca ha leído: revíselo.`
      : `El sensor ${node} no lee desde ${since}: revíselo.`,
  battery: (node, pct) => `Sensor ${node}: batería al ${pct}; cámbiela antes del frío.`,
  toHeat: "Plan de calor",
  levels: { 0: "Tranquila", 1: "El trabajo espera", 2: "Puede fallar", 3: "En juego" },
  zones: "Las zonas esta noche",
  comeBack: "Volver",
  risks: {
    blind: () => "Sin lecturas: nadie cuida este piso esta noche. Revise el sensor, o mida a mano antes de irse.",
    lost: (f) =>
      `La ventana cierra${perhaps(" como a las ", f.at)} antes de poder aplicar encima.${perhaps(" Probabilidad ", f.chance, ".")}`,
    closes: (f) => `La ventana cierra${perhaps(" ", f.at)}, antes de la mañana.`,
    dew: (f) =>
      f.worst === null
        ? `Puede caer rocío en la película.${chance(f)}`
        : `La película no ha pasado el rocío: en una mala noche la losa llega a ${f.worst} ${f.negative ? "debajo del" : "sobre el"} punto de rocío${perhaps(" como a las ", f.at)}${limit(f)}.${chance(f)}`,
    cold: (f) =>
      `La película puede dejar de curar: en una mala noche la losa baja a ${f.worst ?? "–"}${perhaps(" como a las ", f.at)}${limit(f)}.${chance(f)}`,
    night: (f) =>
      f.chance === null
        ? "No se juzga aplicar esta noche: no se sabe cómo viene."
        : `Una mano aplicada ahora no tendría su noche: probabilidad ${f.chance} de que se rompa un límite.`,
    quiet: () => "Esta noche no se prevé nada que amenace este piso.",
  },
  todos: {
    "last-mix": (at, finish) =>
      `Última cubeta mezclada antes de ${at ?? "–"}${perhaps(", piso cubierto antes de ", finish)}.`,
    finish: (at) => `Piso cubierto antes de ${at ?? "–"}.`,
    forecast: () => "Anote la mínima y el punto de rocío de esta noche: sin ellos no se juzga ninguna mano.",
    look: (_at, _finish, more) => `Falta una persona antes de irse: ${more}`,
    steps: (_at, _finish, more) => `Se puede hacer antes de la noche: ${more}.`,
    heat: (at) => `Pregunte qué haría el calor${perhaps(" antes de las ", at)}.`,
    closes: (at) => `La ventana cierra ${at ?? "–"}: aplique antes de irse, o prepare el lijado.`,
  },
  overnight: "Qué pasó",
  knownFrom: (at) => `Decisiones y lecturas desde ${at}; lo de antes está en la página de cada zona.`,
  nothingHappened: "Ninguna decisión cambió, y ninguna zona se acercó a su punto de rocío.",
  change: (at, from, to) => `${at}: ${from} → ${to}`,
  hindsight: "visto después",
  dew: (time) => `${time} en el punto de rocío o debajo`,
  near: (time) => `${time} muy cerca del punto de rocío`,
  cold: (time) => `${time} con demasiado frío`,
  gap: (time) => `${time} sin lecturas`,
  rang: "Alarmas",
  rangNone: "No sonó ninguna.",
  rangUnknown: "No se sabe ahora qué alarmas sonaron en la noche.",
  written: (n) => (n === 1 ? "Se anotó 1 entrada en la bitácora." : `Se anotaron ${n} entradas en la bitácora.`),
  work: "Trabaje en este orden",
  workNone: "Todavía no hay zonas.",
  why: {
    closing: (at) => (at === null ? "Su ventana cierra pronto." : `Su ventana cierra: empiece antes de ${at}.`),
    now: () => "Le espera ahora; ninguna ventana apremia.",
    later: (at) => (at === null ? "Abre más tarde." : `Abre como a las ${at}.`),
    rest: () => "Aquí todavía no hay nada que hacer.",
  },
};
