// The texts of the page that lists all others. Loaded with the page.
import type { Dictionary } from "./en.ts";

/** Name of a page and one line on what it is for. */
type Line = readonly [name: string, what: string];

const en = {
  title: "More",
  tonight: ["Tonight, morning", "What the night may do, what it did, and where to begin"] as Line,
  sensors: ["Sensors", "Where they lie, how much to trust them, adding and moving them"] as Line,
  alarms: ["Alarms", "What is open, what was; whom they tell and when"] as Line,
  material: ["Material", "Litres, kits, batches and hours of every coat; order list; mixing card"] as Line,
  plan: ["Plan", "The calls on the floor plan, and where the probes lie"] as Line,
  "set-up": ["Set up", "Site, coats, floor, sensors; the site as a file"] as Line,
  "spot-check": ["Spot check", "Three numbers by hand and a sheet: what the call would be"] as Line,
  sheets: ["Sheets", "Limits and times of each product, typed from its page and confirmed"] as Line,
  help: ["Words and rules", "What each word means, and what each rule asks for"] as Line,
  sites: ["Sites", "Another building"] as Line,
  people: ["People", "Who may come in, links for inspectors and clients"] as Line,
  choices: "On this device",
};
export type MoreText = typeof en;

const es: MoreText = {
  title: "Más",
  tonight: ["Noche y mañana", "Qué puede hacer la noche, qué hizo y por dónde empezar"],
  sensors: ["Sensores", "Dónde están, cuánto fiarse de ellos, añadirlos y moverlos"],
  alarms: ["Alarmas", "Qué está abierto, qué lo estuvo; a quién se avisa y cuándo"],
  material: ["Material", "Litros, kits, lotes y horas de cada mano; lista de pedido; tarjeta de mezcla"],
  plan: ["Plano", "Los dictámenes sobre el plano, y dónde están las sondas"],
  "set-up": ["Preparar", "Obra, capas, suelo, sensores; la obra como archivo"],
  "spot-check": ["Medición suelta", "Tres números a mano y una ficha: cuál sería el dictamen"],
  sheets: ["Fichas", "Límites y tiempos de cada producto, escritos de su hoja y cotejados"],
  help: ["Palabras y reglas", "Qué significa cada palabra, y qué pide cada regla"],
  sites: ["Obras", "Otro edificio"],
  people: ["Personas", "Quién puede entrar, enlaces para inspectores y clientes"],
  choices: "En este aparato",
};

export const moreText = (text: Dictionary): MoreText => (text.lang === "es" ? es : en);
