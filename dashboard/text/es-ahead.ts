// Spanish texts of what lies ahead of one zone: the race of film and window, and the rules that may fail.
import type { AheadText } from "./en-ahead.ts";

export const esAhead: AheadText = {
  race: {
    title: "Película contra ventana",
    help: "La película debe estar dura, y toda la zona aplicada, antes de que cierre la ventana.",
    film: "Película",
    window: "Ventana",
    pour: "Aplicar",
    hard: (at) => `dura ${at}`,
    hardSince: (at) => `dura desde ${at}`,
    hardLater: "no endurece en las horas previstas",
    closes: (at) => `cierra ${at}`,
    closesLater: "sin cierre en las horas previstas",
    takes: (time) => `toma ${time}`,
    fits: "cabe",
    fitsNot: "no cabe",
    earned: (pct) => `${pct} ganado`,
    now: "ahora",
    never: (chance) =>
      `La película casi no llegará a endurecer en las horas previstas, y la ventana cierra antes: probabilidad de perderla ${chance}.`,
    behind: (gap, chance) =>
      `La película endurece unas ${gap} después de que cierra la ventana: probabilidad de perderla ${chance}.`,
    tight: (gap, pour, chance) =>
      `Entre dura y cerrada hay unas ${gap}; aplicar toma ${pour}: probabilidad de perder la ventana ${chance}.`,
    room: (gap, pour, chance) =>
      `Entre dura y cerrada hay unas ${gap}, cabe aplicar en ${pour}; probabilidad de perder la ventana ${chance}.`,
    open: (closes, left, pour, by, chance) =>
      `La película está dura. La ventana cierra como a las ${closes}, en ${left}; aplicar toma ${pour}: empezar a más tardar ${by}. Probabilidad de perder la ventana ${chance}.`,
    openLate: (closes, left, pour, chance) =>
      `La película está dura, pero la ventana cierra como a las ${closes}, en ${left}, y aplicar toma ${pour}: probabilidad de perderla ${chance}.`,
    endless: (hard) => `La película endurece como a las ${hard}; la ventana no cierra en las horas previstas.`,
    endlessOpen: "La película está dura, y la ventana no cierra en las horas previstas.",
    neverSoft:
      "Una película blanda nunca se lija: si se pierde la ventana, espere a que endurezca, luego lije y limpie.",
    toHeat: "¿La salva el calor?",
    soft: "puntas que se borran: la hora no es segura; el trazo es la probable",
  },
  failing: {
    title: "Qué puede fallar, y para cuándo",
    help: "Probabilidad de que un límite de la siguiente mano se haya roto al menos una vez para entonces, en el peor punto.",
    rule: "Regla",
    by: (hours) => `en ${hours} h`,
    hours: (hours) => `${hours} h`,
    least: "< 1 %",
    nothing: "Ningún límite parece romperse en las horas previstas.",
  },
  heat: {
    title: "¿Qué haría el calor?",
    help: "Ponga un calefactor y vea enseguida qué harían la losa, la película y la ventana. No se enciende ni se guarda nada.",
    open: "Preguntar",
    close: "Quitar",
  },
  feed: {
    doubted: {
      stale: "Pronóstico sin usar: no dice nada nuevo.",
      ends: "Pronóstico sin usar: termina demasiado pronto.",
      jumps: "Pronóstico sin usar: sus números saltan.",
      unit: "Pronóstico sin usar: sus números parecen de otra unidad.",
      "time-zone": "Pronóstico sin usar: sus horas parecen corridas.",
      disagrees: "Pronóstico sin usar: contradice lo medido.",
    },
    unread: (since: string) => `Pronóstico sin leer desde ${since}.`,
    neverRead: "Pronóstico todavía sin leer.",
    without: "La noche se juzga con lo que se sabe sin él.",
  },
  helps: {
    chart:
      "La losa debe quedar sobre la franja sombreada; a la derecha de ahora está lo previsto, con su rango probable.",
    rules: "Cada razón para parar, en el orden en que se juzga; la primera que detiene decide.",
    numbers: "Lo medido en el peor punto de esta zona, y lo que se sigue de ello.",
    pad: "Anote lo que hace cuando lo hace: la decisión lo toma en cuenta enseguida.",
    journal: "Lo que la gente hizo y vio aquí, lo más nuevo primero. Nada se borra nunca.",
  },
};
