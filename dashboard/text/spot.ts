// The texts of the check by hand, and of numbers typed. Not part of the dictionary: the board does without them.
import type { Dictionary } from "./en.ts";

const en = {
  title: "Spot check",
  intro: "No sensors needed: three numbers from your hand meters and a sheet. Nothing is stored.",
  slab: "Slab surface",
  air: "Air",
  humidity: "Humidity",
  sheet: "Sheet",
  base: "Surface",
  porous: "Bare or porous",
  sealed: "Coated or sealed",
  ask: "Give me the call",
  noSheets: "No sheet has been entered yet.",
  asking: "Asking …",
  need: "Enter a number.",
  range: (low: string, high: string) => `Enter a number from ${low} to ${high}.`,
  pick: "Pick a sheet.",
  result: "Call for these numbers",
  onlyNow: "This looks at the air and the slab of this moment only: not at the film, the record or the night ahead.",
  refused: "The server refused these numbers.",
};
export type SpotText = typeof en;

const es: SpotText = {
  title: "Prueba rápida",
  intro: "Sin sensores: tres números de sus medidores y una ficha. No se guarda nada.",
  slab: "Superficie de la losa",
  air: "Aire",
  humidity: "Humedad",
  sheet: "Ficha",
  base: "Superficie",
  porous: "Desnuda o porosa",
  sealed: "Con mano o sellada",
  ask: "Dar la decisión",
  noSheets: "Todavía no hay ninguna ficha.",
  asking: "Preguntando …",
  need: "Escriba un número.",
  range: (low, high) => `Escriba un número de ${low} a ${high}.`,
  pick: "Elija una ficha.",
  result: "Decisión con estos números",
  onlyNow: "Solo mira el aire y la losa de este momento: no la película, el registro ni la noche que viene.",
  refused: "El servidor no aceptó estos números.",
};

export const spotText = (text: Dictionary): SpotText => (text.lang === "es" ? es : en);
