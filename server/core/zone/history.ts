// Past conditions of a zone on equal steps, for strips and charts. Gaps stay gaps.
import type { SiteLog } from "#core/zone/site.ts";

export interface ConditionsHistory {
  readonly fromMs: number;
  readonly stepMs: number;
  readonly slabColdC: readonly (number | null)[];
  readonly slabHotC: readonly (number | null)[];
  readonly airC: readonly (number | null)[];
  readonly rhPct: readonly (number | null)[];
  readonly dewPointC: readonly (number | null)[];
  readonly marginK: readonly (number | null)[];
}

/** Conditions at the end of each step from `fromMs` to `toMs`, from what had been heard by `heardByMs`. */
export function conditionsHistory(
  log: SiteLog,
  zone: string,
  fromMs: number,
  toMs: number,
  stepMs: number,
  heardByMs: number,
): ConditionsHistory {
  throw new RangeError(`${log.site}/${zone} ${fromMs} ${toMs} ${stepMs} ${heardByMs}`);
}
