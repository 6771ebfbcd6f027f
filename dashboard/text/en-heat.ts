// English texts of the question what heat would do to a zone. Loaded with its panel.
import type { HEAT_CAUTIONS } from "#contract/heat-plan.ts";

type Caution = (typeof HEAT_CAUTIONS)[number];
const cautions: Readonly<Record<Caution, string>> = {
  "unvented-fumes":
    "The fumes stay in the room: they bring carbon monoxide and water, and the film may blush. Lead the exhaust outside if you can.",
  "carbon-monoxide":
    "Keep a listed carbon monoxide alarm running where people are. This box is not one. Headache or dizziness: everybody out, call for help.",
  "fresh-air": "A burner needs fresh air: open the way that its plate and local code ask for, and keep it open.",
  "fumes-film":
    "Oil, kerosene and diesel fumes leave a film on the floor that lifts the next coat: wipe, look, abrade if in doubt.",
  clearances:
    "Keep clear of walls, plastic and tarps as the heater's plate asks; stand it level, on ground that does not burn.",
  "flame-and-solvent":
    "No flame, spark or hot surface while solvent or fresh coat gives off vapour: it runs along the floor to the burner. Heat goes back on after it has flashed off.",
  "water-into-air":
    "Burning puts about as much water into the air as the fuel's own volume; on a cold slab it lies down as dew first.",
  "refuel-cold": "Refuel outside, with the heater off and cold.",
  "electric-circuits":
    "One heater a circuit, with ground-fault protection; cords off the wet floor and never coiled under load.",
  "rising-slab":
    "A warming bare slab blows pinholes: stop heating early, so that it is steady or falling when you pour.",
};

export const enHeat = {
  heater: "Heater",
  power: "Power of all heaters",
  target: "Thermostat, air",
  from: "For the later start",
  fromAt: (at: string, away: string) => `${at} (${away})`,
  building: "Building",
  buildings: { known: "As measured", tight: "Tight", loose: "Drafty", open: "Open doors" },
  buildingSays: {
    measured: "The building's loss was measured from its own readings.",
    stated: "The building's loss is reckoned from the class you picked.",
    rough: "The building's loss is a rough guess: take these hours as a rough answer.",
  },
  loss: (loss: string, changes: string) => `Loses ${loss}; its air changes ${changes} times an hour.`,
  asking: "Reckoning …",
  fresh: (at: string) => `Reckoned ${at}.`,
  failed: "The server does not answer; the last answer stands.",
  failedFirst: "The server does not answer.",
  refused: (why: string) => `No answer for this: ${why}`,
  choices: "Four ways, side by side",
  plans: {
    "no-heat": "No heat",
    "heat-now": "Heat now",
    "heat-from": "Heat later",
    "heat-then-coast": "Heat, then coast",
  },
  runs: (from: string, to: string | null) => (to === null ? `from ${from} on` : `${from} to ${to}`),
  off: "heater off",
  rows: {
    slab: "Slab at target",
    opens: "Film hard",
    closes: "Window closes",
    lost: "Chance of losing it",
    pour: "First pour",
    lowest: "Lowest margin",
    energy: "Heat",
    fuel: "Fuel",
    water: "Water into the air",
  },
  notReached: "not within the hours foreseen",
  highest: (t: string) => `not reached, at most ${t}`,
  noPour: "none foreseen",
  worst: (k: string) => `1 chance in 10: under ${k}`,
  startBy: (at: string) => `start by ${at}`,
  pourAt: (at: string, chance: string) => `${at}, chance ${chance}`,
  socket: "from the socket",
  none: "none",
  saves: "saves the window",
  answer: {
    "no-film": "There is no film here whose window could be lost; heat only changes when the slab is ready.",
    "not-closing": "This window does not close within the hours foreseen: heat is not needed to save it.",
    "holds-without-heat": (chance: string) => `The window holds without heat: chance of losing it ${chance}.`,
    yes: (plan: string, before: string, after: string, cost: string) =>
      `Yes: ${plan}. The chance of losing the window falls from ${before} to ${after}, for ${cost}.`,
    no: (area: string | null, hours: string | null) =>
      area === null || hours === null
        ? "No: none of these saves the window. Plan abrading once the film is hard."
        : `No: none of these saves the window. Plan abrading once the film is hard: ${area}, about ${hours} of one person's work.`,
  },
  personHours: (low: string, high: string) => `${low} to ${high} h`,
  question: "Can I save this window?",
  chart: {
    title: (plan: string) => `Slab and dew point: ${plan} against no heat`,
    alone: "Slab and dew point without heat",
    slab: "slab",
    dew: "dew point",
    without: "no heat: dashed",
    band: "too near the dew point",
    label: (plan: string, slab: string, lowest: string) => `${plan}: slab at most ${slab}, lowest margin ${lowest}.`,
  },
  cautionTitle: "Mind",
  cautions,
  log: "Log this heating",
  logged: "Logged. The heater itself is switched by people; its warmth counts once the sensors feel it.",
  logHelp:
    "Writes the plan of the chosen column into the journal. The outlook then knows when heat ends; warmth to come is not counted before the sensors feel it. It switches nothing.",
  logNone: "Choose a column with heat to log it.",
  range: (low: string, high: string) => `From ${low} to ${high}.`,
};

export type HeatText = typeof enHeat;
