// English: one sentence for each rule, for when it is the rule to read first.
import type { RuleFacts, RuleSentences, Sentence } from "./facts.ts";

const say = (lead: string, rest = ""): Sentence => ({ lead, rest });
const at = (f: RuleFacts) => (f.place === null ? "" : ` at ${f.place}`);
const limit = (f: RuleFacts) => (f.limit === null ? "" : `Limit ${f.limit}.`);
const limitAfter = (f: RuleFacts) => (f.limit === null ? "" : `, limit ${f.limit}`);
const since = (f: RuleFacts) => (f.since === null ? "" : ` since ${f.since}`);
const detail = (f: RuleFacts) => (f.detail === null ? "" : `: ${f.detail}`);
const join = (...parts: string[]) => parts.filter((part) => part !== "").join(" ");

/** "Slab 52.1 °F (11.2 °C) at the door." or, without a number, "Slab temperature unknown." */
const reads = (f: RuleFacts, what: string, unknown: string) =>
  f.measured === null ? `${unknown}${at(f)}.` : `${what} ${f.measured}${at(f)}.`;
const night = (f: RuleFacts, bare: string): Sentence => {
  if (f.night === null)
    return say(bare, f.measured === null ? "" : `Chance that it holds ${f.measured}${limitAfter(f)}.`);
  const { low, lowBelow, at: when, chance, limit: margin } = f.night;
  const chances = `Chance that the night holds ${chance}${f.limit === null ? "" : `, needed ${f.limit}`}.`;
  return say(
    `Slab may fall to ${low} ${lowBelow ? "below" : "above"} dew point at ${when}.`,
    join(margin === null ? "" : `Limit ${margin}.`, chances),
  );
};

export const enRules: RuleSentences = {
  "data-missing": (f) =>
    say(
      f.place === null ? "No reading yet." : `No reading from ${f.place}.`,
      "Check the node, or measure slab, air and humidity by hand.",
    ),
  "data-stale": (f) =>
    say(
      f.ago === null ? "Readings are too old." : `No reading for ${f.ago}.`,
      join(
        f.lastCall === null ? "" : `Last call was ${f.lastCall}; it does not stand now.`,
        "Check the node or measure by hand.",
      ),
    ),
  "data-fault": (f) => say(`Sensor fault${at(f)}${detail(f)}.`, "Check the probe, or measure by hand."),
  "data-conflict": (f) =>
    say(
      `Readings disagree${f.measured === null ? "" : ` by ${f.measured}`}${at(f)}.`,
      join(limit(f), "Measure by hand to settle it."),
    ),
  "unit-doubt": (f) =>
    say(
      `${f.measured === null ? "A number" : f.measured}${at(f)} makes sense only in another unit.`,
      "Confirm the unit of that probe.",
    ),
  "clock-doubt": (f) =>
    say(
      `The clock of the node${at(f)} is in doubt.`,
      join(f.measured === null ? "" : `Off by ${f.measured}.`, "Set its clock."),
    ),
  "sheet-invalid": (f) =>
    say(`The sheet cannot be right${detail(f)}.`, "Compare it with the product's data sheet and correct it."),
  "record-missing": (f) =>
    say(`What is on the floor is not on record${detail(f)}.`, "Enter the last coat, or the grinding of the bare slab."),
  hold: (f) => say(`On hold${since(f)}${detail(f)}.`, "Release it when the cause is gone."),
  "filler-soft": (f) =>
    say(
      "Crack filler is not hard yet.",
      join(
        f.measured === null ? "" : `Filled ${f.measured} ago${limitAfter(f)}.`,
        "No grinding and no coat until it is.",
      ),
    ),
  "film-soft": (f) =>
    say(`Film is soft${since(f)}.`, "A soft film is never abraded. Touch it again later and log what you find."),
  "cure-short": (f) =>
    say(
      f.measured === null
        ? "Film has not cured enough for the next coat."
        : `Film has earned ${f.measured} of its recoat minimum.`,
      f.opens === null ? "" : `Window opens about ${f.opens}.`,
    ),
  blush: (f) =>
    say(
      `Dew lay on the film${f.measured === null ? "" : ` for ${f.measured}`}${at(f)}: blush.`,
      f.steps === null ? "" : `Next: ${f.steps}, then pour.`,
    ),
  "inspect-due": (f) =>
    say(
      `Look at the film${f.measured === null ? "" : `: ${f.measured} too near dew or unheard`}.`,
      join(limit(f), "Wipe it, look along it with a light, log what you find."),
    ),
  "window-closed": (f) =>
    say(
      `Window closed${f.since === null ? (f.closes === null ? "" : ` ${f.closes}`) : ` ${f.since}`}.`,
      f.steps === null ? "Abrade, clean, then pour." : `Next: ${f.steps}, then pour.`,
    ),
  "abrasion-stale": (f) =>
    say(
      `Abraded too long ago${f.since === null ? "" : `, ${f.since}`}.`,
      join(
        f.measured === null ? "" : `${f.measured}${limitAfter(f)}.`,
        f.steps === null ? "Abrade again and clean." : `Next: ${f.steps}.`,
      ),
    ),
  dust: (f) => say(`Dust on the floor${since(f)}.`, "Clean it, then pour."),
  frost: (f) =>
    say(
      `Frost on the slab${at(f)}.`,
      join(f.measured === null ? "" : `Slab ${f.measured}${limitAfter(f)}.`, "Warm the slab and let it dry."),
    ),
  condensing: (f) =>
    say(
      f.size === null
        ? "Dew is forming on the slab."
        : `Dew is forming: slab ${f.size} ${f.negative ? "below" : "above"} dew point${at(f)}.`,
      "Nothing goes down on a wet floor.",
    ),
  "surface-damp": (f) =>
    say(
      `Floor is damp${since(f)}.`,
      join(
        f.measured === null ? "" : `About ${f.measured} of water left${limitAfter(f)}.`,
        "Let it dry and log it when it is dry.",
      ),
    ),
  "slab-cold": (f) => say(reads(f, "Slab too cold:", "Slab temperature unknown"), limit(f)),
  "slab-hot": (f) => say(reads(f, "Slab too hot:", "Slab temperature unknown"), limit(f)),
  "air-cold": (f) => say(reads(f, "Air too cold:", "Air temperature unknown"), limit(f)),
  "air-hot": (f) => say(reads(f, "Air too hot:", "Air temperature unknown"), limit(f)),
  "air-damp": (f) => say(reads(f, "Air too damp:", "Humidity unknown"), limit(f)),
  "air-dry": (f) => say(reads(f, "Air too dry:", "Humidity unknown"), limit(f)),
  "vapour-low": (f) => say(reads(f, "Too little water in the air to cure:", "Water in the air unknown"), limit(f)),
  "dew-margin": (f) =>
    say(
      f.size === null
        ? `Slab to dew point unknown${at(f)}.`
        : `Slab ${f.size} ${f.negative ? "below" : "above"} dew point${at(f)}.`,
      limit(f),
    ),
  "slab-rising": (f) =>
    say(
      `Slab is warming${f.measured === null ? "" : ` ${f.measured}`}${at(f)}.`,
      join(limit(f), "A warming slab blows pinholes: wait until it is steady or falling."),
    ),
  "slab-moisture": (f) =>
    say(
      f.measured === null ? "No moisture test of the slab on record." : `Moisture in the slab ${f.measured}${at(f)}.`,
      limit(f),
    ),
  "resin-temp": (f) =>
    say(
      f.measured === null ? "Resin temperature unknown." : `Resin at ${f.measured}.`,
      join(limit(f), "Bring the pails to temperature and measure again."),
    ),
  "hand-check": (f) =>
    say(
      "Check by hand.",
      join(
        f.size === null
          ? ""
          : `Slab ${f.size} ${f.negative ? "below" : "above"} dew point passes by less than its uncertainty${limitAfter(f)}.`,
        "Measure slab, air and humidity.",
      ),
    ),
  "not-sustained": (f) =>
    say("Good now, but not yet for a full hour.", f.since === null ? "" : `Good since ${f.since}.`),
  "finish-late": (f) =>
    say(
      `The last of the floor would go down after the window closes${f.closes === null ? "" : ` ${f.closes}`}.`,
      f.fits === null ? "" : `${f.fits} fit: split at a joint, or abrade later.`,
    ),
  "night-unknown": () =>
    say("The night ahead is not known.", "Enter tonight's low and dew point, or wait for a day of readings."),
  "night-dew": (f) => night(f, "Dew is likely on the fresh coat tonight."),
  "night-cold": (f) =>
    say(
      f.night === null
        ? "The night is likely too cold for the coat."
        : `The night is likely too cold for the coat: chance that it holds ${f.night.chance}.`,
      f.measured === null || f.night !== null ? limit(f).replace("Limit", "Needed") : `${f.measured}${limitAfter(f)}.`,
    ),
};
