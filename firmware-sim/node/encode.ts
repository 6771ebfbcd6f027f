// SenML (RFC 8428, JSON) as a cheap node writes it: one base name and time, Celsius as the base unit.
import type { SenmlRecord } from "#contract/senml-schema.ts";
import { quantityKind, QUANTITY_UNITS } from "#contract/reading.ts";
import type { Value } from "./take.ts";

export interface RoundOfReadings {
  /** Whole seconds since 1970 by the node's clock. */
  readonly atS: number;
  readonly values: readonly Value[];
}

const BASE_UNIT = "Cel";

function recordOf({ quantity, value }: Value, t: number): SenmlRecord {
  const kind = quantityKind(quantity);
  if (kind === null) throw new RangeError(`"${quantity}" is not a quantity that a node may send`);
  const time = t === 0 ? {} : { t };
  if (kind === "door") return { n: quantity, ...time, vb: value === 1 };
  const unit = QUANTITY_UNITS[kind][0];
  return { n: quantity, ...(unit === BASE_UNIT ? {} : { u: unit }), ...time, v: value };
}

/** A record with the labels by which a node says that it does not know the time; whoever does not know them must refuse it. */
export type UntimedRecord = SenmlRecord & { readonly boot_?: number; readonly up_?: number };

export interface UntimedRound {
  readonly uptimeMs: number;
  readonly values: readonly Value[];
}

/** A pack of rounds of a start in which the time was never learnt: the number of the start, and seconds since it. */
export function encodeUntimed(node: string, boot: number, rounds: readonly UntimedRound[]): UntimedRecord[] {
  const records = rounds.flatMap(({ uptimeMs, values }) =>
    values.map((value, index): UntimedRecord => {
      const record = recordOf(value, 0);
      return index === 0 ? { up_: Math.round(uptimeMs / 1000), ...record } : record;
    }),
  );
  const [first, ...rest] = records;
  return [{ bn: `${node}/`, bu: BASE_UNIT, boot_: boot, ...first }, ...rest];
}

/** A pack of rounds, oldest first; times count from the newest round, which is the base time. */
export function encodePack(node: string, rounds: readonly RoundOfReadings[]): SenmlRecord[] {
  const newest = rounds.at(-1);
  if (newest === undefined) throw new RangeError("a pack needs a round of readings");
  const records = rounds.flatMap((round) => round.values.map((value) => recordOf(value, round.atS - newest.atS)));
  const [first, ...rest] = records;
  return [{ bn: `${node}/`, bt: newest.atS, bu: BASE_UNIT, ...first }, ...rest];
}
