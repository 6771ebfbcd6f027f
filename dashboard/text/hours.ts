// The texts of the choice of a clock. Loaded where it is chosen.
import type { Dictionary } from "./en.ts";

const en = { label: "Clock", choices: { auto: "As the units", "12": "1:40 pm", "24": "13:40" } };
export type HoursText = typeof en;

const es: HoursText = { label: "Reloj", choices: { auto: "Como las unidades", "12": "1:40 pm", "24": "13:40" } };

export const hoursText = (text: Dictionary): HoursText => (text.lang === "es" ? es : en);
