// English help in place: what each rule means and what to do about it. Loaded when somebody asks.
import type { RuleId } from "#core/judge/call.ts";

export interface RuleHelp {
  readonly means: string;
  readonly todo: string;
}

const rules: Readonly<Record<RuleId, RuleHelp>> = {
  "data-missing": {
    means: "No slab reading, or no air reading with humidity, has come in yet. Without them nothing can be judged.",
    todo: "Check that the node has power and reach, or measure slab, air and humidity by hand: that stands in for half an hour.",
  },
  "data-stale": {
    means: "The last reading is too old to stand for the floor of now. Old good news is no news.",
    todo: "Check the node. Until it speaks again measure by hand; move or retire a probe that has left the zone.",
  },
  "data-fault": {
    means: "A sensor behaves as one does that is broken, wet, off the slab or in the sun. Its number is not believed.",
    todo: "Look at it: stuck down, dry, out of the sun and away from the heater? Measure by hand; vouch for it only if it is right.",
  },
  "data-conflict": {
    means: "Two readings that should agree do not, and nothing in the building explains it. One of them is wrong.",
    todo: "Hold a meter beside both and write it down. Move, mend or retire the one that is off.",
  },
  "unit-doubt": {
    means: "A number makes sense only if it is in another unit than the node claims.",
    todo: "Read the same spot by hand, then confirm or correct the unit of that probe.",
  },
  "clock-doubt": {
    means: "The node's clock and the order of its messages do not fit, and the difference matters for a limit.",
    todo: "Set the node's clock or restart it. Hand readings count meanwhile.",
  },
  "sheet-invalid": {
    means: "A sheet for this floor contradicts itself, or nobody has held it against the product's page yet.",
    todo: "Open the sheet, compare each number with the printed page, correct it and confirm it. The printed page rules.",
  },
  "record-missing": {
    means: "What lies on the floor is not on record, or a bare slab has no grinding on record.",
    todo: "Write down the last coat with its hours, or the grinding. If nobody knows, find out before anything goes down.",
  },
  hold: {
    means: "Somebody has put the zone on hold. Arithmetic does not lift what a person has stopped.",
    todo: "Ask who held it and why. Release it when the cause is gone.",
  },
  "filler-soft": {
    means:
      "Crack filler is not hard yet by its hours at this slab temperature. Ground or coated too early it smears and sinks.",
    todo: "Wait, then touch it. Follow the hours on the filler's own sheet.",
  },
  "film-soft": {
    means:
      "The film is soft: found so, or short of its minimum while the window has closed. A soft film tears under abrading.",
    todo: "Wait and touch it again, or warm the slab if its sheet allows. Never abrade or coat a soft film.",
  },
  "cure-short": {
    means: "The film has not earned its recoat minimum. Hours count by the coldest spot; cold hours earn little.",
    todo: "Wait for the window to open. Warmth at the slab earns faster; the sheet says how warm it may be.",
  },
  blush: {
    means:
      "Dew lay on the film while it was still sensitive, or it was found greasy. Blush can be invisible and lets the next coat peel.",
    todo: "Do the steps that the sheet lists, in their order, each written down. Rinse water must run off without beading.",
  },
  "inspect-due": {
    means:
      "The film was too near the dew point for a while, or nothing was heard while it was sensitive. It may have blushed.",
    todo: "Wipe it with a clean damp rag, look along it with a lamp, feel it, and write down what you find.",
  },
  "window-closed": {
    means: "The recoat window has closed: the film is too hard for the next coat to bite by itself.",
    todo: "Abrade the whole zone to an even dull, clean off the dust, then pour. The sheet says how coarse.",
  },
  "abrasion-stale": {
    means: "The abrading is more than a day old: the surface has been walked on and has aged since.",
    todo: "Abrade once more, lightly, and clean.",
  },
  dust: {
    means: "The floor was abraded or ground and not cleaned since, or found dusty. A coat on dust sticks to the dust.",
    todo: "Vacuum, then wipe; do not sweep dry. Write it down.",
  },
  frost: {
    means: "The slab is below freezing and at the frost point: ice is on it or about to be.",
    todo: "Warm the slab slowly, let the water go and the floor dry, then look at it.",
  },
  condensing: {
    means: "The coldest spot of the slab is at or below the dew point: water is forming there now, seen or not.",
    todo: "Warm the slab or dry the air, slab first. Nothing goes down on a wet floor.",
  },
  "surface-damp": {
    means: "The floor was washed, found damp, or dew on it has not dried away by the water balance.",
    todo: "Move air over it and wait. When a rag stays dry, write down what you found.",
  },
  "slab-cold": {
    means:
      "The coldest probe of the slab is below the least that the sheet allows. Air says little: slabs lag by hours.",
    todo: "Warm the slab, not only the air, or wait for the afternoon. Ask the heat plan how long it takes.",
  },
  "slab-hot": {
    means: "The hottest probe of the slab is above the most that the sheet allows: short pot life, bubbles, poor flow.",
    todo: "Shade it, ventilate, or pour when it has cooled in the evening.",
  },
  "air-cold": {
    means: "The air is colder than the sheet allows. Resin stiffens and cures late.",
    todo: "Warm the room with the exhaust led outside, or wait.",
  },
  "air-hot": {
    means: "The air is hotter than the sheet allows: the material runs out of time on the floor.",
    todo: "Wait for a cooler hour, or shade and ventilate.",
  },
  "air-damp": {
    means: "The humidity is above what the sheet allows. Damp air clouds, blushes or foams the film, by its kind.",
    todo: "Dry the air, or warm it with dry heat. Ventilate only with air that holds less water than that inside.",
  },
  "air-dry": {
    means: "The humidity is below what the sheet allows; some coats need water from the air to cure.",
    todo: "Ask the sheet whether the air may be moistened, and how. Otherwise wait.",
  },
  "vapour-low": {
    means: "There is too little water in the air, by weight, for a coat that cures by it. Cold air is dry air.",
    todo: "Wait for damper air, or moisten it as the sheet allows.",
  },
  "dew-margin": {
    means: "The coldest slab is too few degrees above the dew point. A draught or a wet load is then enough for dew.",
    todo: "Warm the slab or dry the air until the margin stands well above the limit. Find out where the water comes from.",
  },
  "slab-rising": {
    means: "A bare or porous slab is warming: air in its pores swells and blows pinholes through the wet coat.",
    todo: "Pour when it is steady or falling, mostly late in the day. Stop heating some hours before.",
  },
  "slab-moisture": {
    means:
      "Moisture in the slab is above the limit of the sheet, or no test is on record. It can push a coat off later.",
    todo: "Test as the standard on the sheet says, and write down each spot. A moisture primer is for the sheet and its maker to say.",
  },
  "resin-temp": {
    means:
      "The pails are outside the temperature of the sheet, or so cold that they sweat, or nobody has measured lately.",
    todo: "Keep pails in a warm room overnight, measure in the middle of one, write it down.",
  },
  "hand-check": {
    means: "The margin passes, but by less than the sensors may be wrong.",
    todo: "Measure slab, air and humidity with your own meter at the coldest spot and write it down: it counts for half an hour.",
  },
  "not-sustained": {
    means: "All is good now, but not yet for a full hour. Good minutes after sunrise often do not last.",
    todo: "Get ready and wait. Nothing else is asked.",
  },
  "finish-late": {
    means: "At this crew's speed the last of the floor would go down after the window closes.",
    todo: "Split at a joint and pour what fits, bring more people, or let it close and abrade.",
  },
  "night-unknown": {
    means: "The coming night cannot be judged: less than a day of readings, and no forecast of any kind.",
    todo: "Type tonight's low and dew point from a forecast that you trust, or wait for a day of readings.",
  },
  "night-dew": {
    means: "Poured now, the fresh coat would still be sensitive when dew becomes likely tonight.",
    todo: "Pour earlier tomorrow, or ask the heat plan whether warmth through the night would hold it. Shut doors and gaps.",
  },
  "night-cold": {
    means:
      "Poured now, the slab would likely fall below the least of the sheet before the coat is past the sensitive hours.",
    todo: "Wait for a milder night, or ask the heat plan what it would take.",
  },
};

const glossary = [
  ["site", "One building being coated, with its zones, nodes, journal and people."],
  ["zone", "A piece of floor that is poured in one go, bounded by walls or joints."],
  ["node", "One sensor device. It carries probes: on the slab, and a chip in the air."],
  ["probe", "What touches or measures: a slab probe, or the air chip with temperature and humidity."],
  ["sheet", "Limits and times of one product, typed from its page by a person and confirmed by one."],
  ["system", "The list of coats that a zone gets, first to last."],
  ["coat", "One layer of the system, wet or cured."],
  ["film", "The coat that lies on the floor now."],
  ["call", "The verdict for a zone: pour, wait, abrade or finished. It says why, until when, and what comes next."],
  ["rule", "One reason to stop or to take care. The first that stops, in the order of the list, decides the call."],
  ["near", "A rule that is met, but close to its limit or on its way to it."],
  ["dew point", "The temperature at which the water in the air begins to lie down as dew."],
  ["margin", "How far the coldest slab is above the dew point. It is a difference of degrees, no temperature."],
  [
    "window",
    "The hours in which the next coat bites without abrading: it opens when the film is hard enough, and closes when it is too hard.",
  ],
  ["earned", "How much of its minimum the film has cured, by the slab's own temperature: cold hours count for little."],
  [
    "dew-sensitive",
    "The hours in which dew would spoil the film, from its first square metre until it is hard enough.",
  ],
  ["blush", "A greasy, milky or invisible layer left by dew or damp on a fresh film. The next coat peels from it."],
  ["abrade", "To dull a hard film so that the next coat bites. A soft film is never abraded."],
  ["profile", "How rough the bare slab is after grinding, as a CSP number or a depth."],
  [
    "night ahead",
    "What is foreseen for slab, air and dew point, with chances, from the building's own nights and the weather that is known.",
  ],
  [
    "chance",
    "How often, of a hundred nights that begin like this one, it would come so. Nothing about a night is certain.",
  ],
  ["hold", "A person's stop on a zone. Only a person lifts it."],
  ["journal", "What people did and saw, in order. Nothing in it is erased; a slip is taken back by a new entry."],
  ["record", "The evidence of a coat on paper: conditions, limits, who did what and when."],
  ["night file", "A night of a zone as one file, which can be judged again elsewhere."],
] as const satisfies readonly (readonly [word: string, meaning: string])[];

export interface HelpText {
  readonly rules: Readonly<Record<RuleId, RuleHelp>>;
  readonly glossary: readonly (readonly [word: string, meaning: string])[];
  readonly title: string;
  readonly intro: string;
  readonly wordsTitle: string;
  readonly rulesTitle: string;
  readonly todo: string;
  readonly defer: string;
}

export const enHelp: HelpText = {
  rules,
  glossary,
  title: "Words and rules",
  intro: "What is meant by each word on these pages, and what each rule asks for.",
  wordsTitle: "Words of the trade",
  rulesTitle: "The rules, in the order in which they are judged",
  todo: "What to do:",
  defer: "The product's own sheet and its safety sheet, local code and licensed practice come before this help.",
};
