// Faults of the radio link between a node and its broker, as options name them: drop=0.1 repeat=0.05 delay=90 reorder=0.1 skew=-300.
import { uniform } from "../random.ts";

export interface LinkFaults {
  /** Share of packs that vanish, that arrive twice, that overtake each other. */
  readonly drop: number;
  readonly repeat: number;
  readonly reorder: number;
  /** Longest delay, seconds; each pack draws its own below it. */
  readonly delay: number;
  /** The network tells the nodes a time that is off by this, seconds. */
  readonly skew: number;
}

export const NO_FAULTS: LinkFaults = { drop: 0, repeat: 0, reorder: 0, delay: 0, skew: 0 };

const RANGES: Record<keyof LinkFaults, readonly [min: number, max: number, unit: string]> = {
  drop: [0, 1, "a share from 0 to 1"],
  repeat: [0, 1, "a share from 0 to 1"],
  reorder: [0, 1, "a share from 0 to 1"],
  delay: [0, 86_400, "seconds from 0 to 86400"],
  skew: [-86_400, 86_400, "seconds from -86400 to 86400"],
};

/** Reads `name=value` texts. Throws RangeError that names the fault and what it takes. */
export function readFaults(texts: readonly string[]): LinkFaults {
  const faults = { ...NO_FAULTS };
  for (const text of texts.flatMap((each) => each.split(","))) {
    const [name, value, ...rest] = text.split("=");
    if (name === undefined || !Object.hasOwn(RANGES, name)) {
      throw new RangeError(`"${text}" is not a fault; faults are ${Object.keys(RANGES).join(", ")}`);
    }
    const [min, max, unit] = RANGES[name as keyof LinkFaults];
    const number = Number(value);
    if (value === undefined || value.trim() === "" || rest.length > 0 || !(number >= min && number <= max)) {
      throw new RangeError(`${name} must be ${unit}, not "${value ?? ""}"`);
    }
    faults[name as keyof LinkFaults] = number;
  }
  return faults;
}

/**
 * What happens to the pack number `index` of a node: the delays, seconds, of the copies that arrive. None = it vanished.
 * `everyS`: the node's interval; a pack that is overtaken arrives after the one behind it.
 */
export function fateOf(
  faults: LinkFaults,
  seed: number,
  node: string,
  index: number,
  everyS: number,
): readonly number[] {
  const chance = (name: keyof LinkFaults) => uniform(seed, `link/${node}/${name}`, index) < faults[name];
  if (chance("drop")) return [];
  const late = faults.delay * uniform(seed, `link/${node}/late`, index) + (chance("reorder") ? 1.5 * everyS : 0);
  return chance("repeat") ? [late, late + 1 + faults.delay * uniform(seed, `link/${node}/again`, index)] : [late];
}
