// Spanish texts of the list that says when to come back to each zone.
import type { Dictionary } from "./en.ts";

export const esComeBack: Dictionary["comeBack"] = {
  title: "Cuándo volver",
  help: "En orden de recorrido: donde ya se puede aplicar, luego por la hora en que abre el trabajo.",
  more: (n) => `${n} más`,
  print: "Imprimir la lista",
  asOf: (at) => `A las ${at}, sin renovar desde entonces.`,
  now: "AHORA",
  left: (time) => `quedan ${time}`,
  noTime: "–",
  closesFirst: (at) => `cierra primero, ${at}`,
  chances: { high: "muy probable", good: "probable", fair: "quizá", low: "dudoso" },
  chance: (word, pct) => `${word}, ${pct}`,
  pour: (by) => (by === null ? "Aplicar ya." : `Aplicar ya: empezar a más tardar ${by}.`),
  pouring: (by) => (by === null ? "Se está aplicando." : `Se está aplicando: terminar antes de ${by}.`),
  steps: (steps) => `${steps}, luego aplicar.`,
  hands: (reason) => `Falta una persona: ${reason}`,
  back: (from, by) =>
    [
      "Volver para aplicar",
      from === null ? "" : `, no antes de ${from}`,
      by === null ? "." : from === null ? `, empezar a más tardar ${by}.` : `; empezar a más tardar ${by}.`,
    ].join(""),
  backAtOnce: (from) => `Volver para aplicar${from === null ? "" : `, no antes de ${from}`}; empezar enseguida.`,
  lost: (closes, hard) =>
    closes === null || hard === null
      ? "La ventana cierra antes de que la película endurezca: prepare el lijado."
      : `La ventana cierra ${closes}, antes de que la película endurezca (${hard}): prepare el lijado.`,
  abrade: "Volver para lijar; para entonces la ventana está cerrada.",
  walk: "Terminado: se puede pisar desde entonces.",
  unread: "Su ficha no está cotejada.",
  done: "Terminado: no hay a qué volver.",
  nothing: (reason) => `Nada por lo que volver en 36 h. ${reason}`,
};
