// A measured value against one side of a range: stop beyond it, caution near it or when it is about to be reached.
import type { Range } from "#core/cure/sheet.ts";
import type { RuleUnit } from "#core/judge/call.ts";
import { type Finding, PASS, UNKNOWN } from "#core/judge/rule.ts";

export interface AgainstLimit {
  readonly measured: number | null;
  readonly range: Range | undefined;
  readonly side: "min" | "max";
  readonly unit: RuleUnit;
  readonly probe: string | null;
  /** The value foreseen within three hours; null if not known. */
  readonly soon: number | null;
  /** Width of the range when the sheet gives only one side. */
  readonly widthIfOpen: number;
}

/** Caution lies within this share of the range (trade rule of the design: a tenth). */
const NEAR_SHARE = 0.1;

export function againstLimit(input: AgainstLimit): Finding {
  const { measured, range, side, unit, probe, soon } = input;
  if (range === undefined) return PASS;
  const limit = side === "min" ? range[0] : range[1];
  if (limit === null) return PASS;
  if (measured === null || Number.isNaN(measured)) return { ...UNKNOWN, limit, unit, probe };
  const beyond = (value: number) => (side === "min" ? value < limit : value > limit);
  const [min, max] = range;
  const width = min !== null && max !== null ? max - min : input.widthIfOpen;
  const near = Math.abs(measured - limit) < NEAR_SHARE * width;
  const outcome = beyond(measured) ? "stop" : near || (soon !== null && beyond(soon)) ? "caution" : "pass";
  return { outcome, measured, limit, unit, probe };
}
