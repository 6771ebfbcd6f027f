// Spanish texts of the question what heat would do to a zone.
import type { HeatText } from "./en-heat.ts";

export const esHeat: HeatText = {
  heater: "Calefactor",
  power: "Potencia de todos los calefactores",
  target: "Termostato, aire",
  from: "Para el inicio más tarde",
  fromAt: (at, away) => `${at} (${away})`,
  building: "Edificio",
  buildings: { known: "Como se midió", tight: "Cerrado", loose: "Con corrientes", open: "Puertas abiertas" },
  buildingSays: {
    measured: "La pérdida del edificio se midió con sus propias lecturas.",
    stated: "La pérdida del edificio se calcula con la clase que eligió.",
    rough: "La pérdida del edificio es un cálculo grueso: tome estas horas como aproximadas.",
  },
  loss: (loss, changes) => `Pierde ${loss}; su aire cambia ${changes} veces por hora.`,
  asking: "Calculando …",
  fresh: (at) => `Calculado ${at}.`,
  failed: "El servidor no responde; queda la última respuesta.",
  failedFirst: "El servidor no responde.",
  refused: (why) => `Sin respuesta para esto: ${why}`,
  choices: "Cuatro maneras, lado a lado",
  plans: {
    "no-heat": "Sin calor",
    "heat-now": "Calentar ya",
    "heat-from": "Calentar después",
    "heat-then-coast": "Calentar y soltar",
  },
  runs: (from, to) => (to === null ? `desde ${from}` : `${from} a ${to}`),
  off: "calefactor apagado",
  rows: {
    slab: "Losa en su meta",
    opens: "Película dura",
    closes: "Cierra la ventana",
    lost: "Probabilidad de perderla",
    pour: "Primera aplicación",
    lowest: "Margen más bajo",
    energy: "Calor",
    fuel: "Combustible",
    water: "Agua al aire",
  },
  notReached: "no en las horas previstas",
  highest: (t) => `no llega, máximo ${t}`,
  noPour: "ninguna prevista",
  worst: (k) => `1 de 10: menos de ${k}`,
  startBy: (at) => `empezar a más tardar ${at}`,
  pourAt: (at, chance) => `${at}, probabilidad ${chance}`,
  socket: "del enchufe",
  none: "nada",
  saves: "salva la ventana",
  answer: {
    "no-film": "Aquí no hay película cuya ventana se pierda; el calor solo cambia cuándo está lista la losa.",
    "not-closing": "Esta ventana no cierra en las horas previstas: no hace falta calor para salvarla.",
    "holds-without-heat": (chance) => `La ventana aguanta sin calor: probabilidad de perderla ${chance}.`,
    yes: (plan, before, after, cost) =>
      `Sí: ${plan}. La probabilidad de perder la ventana baja de ${before} a ${after}, con ${cost}.`,
    no: (area, hours) =>
      area === null || hours === null
        ? "No: ninguna de estas salva la ventana. Prepare el lijado para cuando la película esté dura."
        : `No: ninguna de estas salva la ventana. Prepare el lijado para cuando la película esté dura: ${area}, unas ${hours} de trabajo de una persona.`,
  },
  personHours: (low, high) => `${low} a ${high} h`,
  question: "¿Puedo salvar esta ventana?",
  chart: {
    title: (plan) => `Losa y punto de rocío: ${plan} contra sin calor`,
    alone: "Losa y punto de rocío sin calor",
    slab: "losa",
    dew: "punto de rocío",
    without: "sin calor: cortada",
    band: "muy cerca del punto de rocío",
    label: (plan, slab, lowest) => `${plan}: losa máximo ${slab}, margen más bajo ${lowest}.`,
  },
  cautionTitle: "Cuidado",
  cautions: {
    "unvented-fumes":
      "El humo queda en el cuarto: trae monóxido de carbono y agua, y la película puede velarse. Saque el escape si puede.",
    "carbon-monoxide":
      "Tenga una alarma de monóxido certificada donde hay gente. Esta caja no lo es. Dolor de cabeza o mareo: todos afuera y pida ayuda.",
    "fresh-air":
      "Un quemador necesita aire fresco: abra el paso que piden su placa y el código local, y déjelo abierto.",
    "fumes-film":
      "El humo de aceite, queroseno o diésel deja una capa en el piso que despega la siguiente mano: limpie, mire y lije si hay duda.",
    clearances: "Lejos de paredes, plásticos y lonas como pide la placa; a nivel y sobre algo que no arda.",
    "flame-and-solvent":
      "Sin llama, chispa ni superficie caliente mientras el solvente o la mano fresca suelten vapor: corre por el piso hasta el quemador. El calor vuelve cuando se evaporó.",
    "water-into-air":
      "Al quemar sale al aire casi tanta agua como el volumen del combustible; en una losa fría primero se vuelve rocío.",
    "refuel-cold": "Cargue combustible afuera, con el calefactor apagado y frío.",
    "electric-circuits":
      "Un calefactor por circuito, con protección de falla a tierra; cables fuera del piso mojado y nunca enrollados con carga.",
    "rising-slab":
      "Una losa desnuda que se calienta hace poros: deje de calentar antes, para que esté estable o bajando al aplicar.",
  },
  log: "Anotar este calor",
  logged: "Anotado. El calefactor lo enciende la gente; su calor cuenta cuando lo sienten los sensores.",
  logHelp:
    "Escribe en la bitácora el plan de la columna elegida. El pronóstico sabe entonces cuándo acaba el calor; el que falta por venir no cuenta hasta que lo sienten los sensores. No enciende nada.",
  logNone: "Elija una columna con calor para anotarla.",
  range: (low, high) => `De ${low} a ${high}.`,
};
