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
export const enRules: RuleSentences = {
  "data-missing": (f) =>
    say(
      f.kind === "slab" ? "No slab reading yet." : f.kind === "air" ? "No air reading yet." : "No reading yet.",
      "Check the node, or measure slab, air and humidity by hand.",
    ),
  "data-stale": (f) =>
    f.kind === "silent-probe"
      ? say(`A slab probe is silent${at(f)}.`, "It keeps its vote until somebody moves or retires it. Check it.")
      : say(
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
      join(f.size === null ? "" : `Off by ${f.size}.`, "Set its clock."),
    ),
  "sheet-invalid": (f) =>
    f.kind?.endsWith(": unconfirmed") === true
      ? say(
          `Nobody has confirmed the sheet ${f.kind.split(":")[0] ?? ""}.`,
          "It is no limit until somebody holds it against the product's page.",
        )
      : say(`The sheet cannot be right${detail(f)}.`, "Compare it with the product's data sheet and correct it."),
  "record-missing": (f) =>
    say(`What is on the floor is not on record${detail(f)}.`, "Enter the last coat, or the grinding of the bare slab."),
  hold: (f) => say(`On hold${since(f)}${detail(f)}.`, "Release it when the cause is gone."),
  "filler-soft": (f) =>
    say(
      "Crack filler is not hard yet.",
      join(
        f.measured === null ? "It earns nothing at this slab temperature." : `Hard in about ${f.measured}.`,
        f.kind === "estimate" ? "Some of its hours are our estimate: touch it." : "",
        "No grinding and no coat until then.",
      ),
    ),
  "film-soft": (f) =>
    f.kind === "window-closed"
      ? say(
          `Window closed${f.since === null ? "" : ` ${f.since}`} while the film was soft.`,
          join(
            f.measured === null ? "" : `It has earned ${f.measured} of its minimum.`,
            "A soft film is never abraded: wait until it is hard.",
          ),
        )
      : say(
          `Film found soft${f.since === null ? "" : ` ${f.since}`}.`,
          "A soft film is never abraded. Touch it again later and log what you find.",
        ),
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
      f.measured === null
        ? "Look at the film."
        : f.kind === "gap"
          ? `Look at the film: nothing heard for ${f.measured}.`
          : `Look at the film: ${f.measured} too near the dew point.`,
      join(limit(f), "Wipe it, look along it with a light, log what you find."),
    ),
  "window-closed": (f) =>
    say(
      `Window closed${f.since === null ? (f.closes === null ? "" : ` ${f.closes}`) : ` ${f.since}`}.`,
      f.steps === null ? "Abrade, clean, then pour." : `Next: ${f.steps}, then pour.`,
    ),
  "abrasion-stale": (f) =>
    say(
      f.measured === null ? "Abraded too long ago." : `Abraded ${f.measured} ago${limitAfter(f)}.`,
      f.steps === null ? "Abrade again and clean." : `Next: ${f.steps}, then pour.`,
    ),
  dust: (f) => say(`Dust on the floor${since(f)}.`, "Clean it, then pour."),
  frost: (f) =>
    say(
      `Frost on the slab${at(f)}.`,
      join(
        f.measured === null ? "" : `Slab ${f.measured}${f.limit === null ? "" : `, frost point ${f.limit}`}.`,
        "Warm the slab and let it dry.",
      ),
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
      f.kind === "found" ? `Floor found damp${f.since === null ? "" : ` ${f.since}`}.` : `Floor is damp${since(f)}.`,
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
      f.measured === null ? "No moisture test of the slab on record." : `Moisture in the slab ${f.measured}.`,
      join(limit(f), f.detail === null ? "" : `Test: ${f.detail}.`),
    ),
  "resin-temp": (f) =>
    say(
      f.measured === null ? "Resin temperature unknown." : `Resin at ${f.measured}.`,
      join(
        f.kind === "below-dew-point"
          ? `Colder than the dew point${f.limit === null ? "" : `, ${f.limit}`}: it sweats.`
          : limit(f),
        "Bring the pails to temperature and measure again.",
      ),
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
    say(
      f.measured === null ? "Not known to be good for a full hour." : "Good now, but not yet for a full hour.",
      f.measured === null ? "" : `Good for ${f.measured}${f.limit === null ? "" : ` of ${f.limit}`}.`,
    ),
  "finish-late": (f) =>
    say(
      `The last of the floor would go down after the window closes${f.closes === null ? "" : ` ${f.closes}`}.`,
      f.fits === null ? "" : `${f.fits} fit: split at a joint, or abrade later.`,
    ),
  "night-unknown": () =>
    say("The night ahead is not known.", "Enter tonight's low and dew point, or wait for a day of readings."),
  "night-dew": (f) =>
    say(
      f.size === null
        ? "Dew is likely on the fresh coat tonight."
        : `Slab may fall to ${f.size} ${f.negative ? "below" : "above"} dew point${f.since === null ? "" : ` at ${f.since}`}.`,
      join(limit(f), f.nightHolds === null ? "" : `Chance that the night holds ${f.nightHolds}.`),
    ),
  "night-cold": (f) =>
    say(
      f.measured === null
        ? "The night is likely too cold for the coat."
        : `Slab may fall to ${f.measured} in the night.`,
      join(limit(f), f.nightHolds === null ? "" : `Chance that the night holds ${f.nightHolds}.`),
    ),
};
