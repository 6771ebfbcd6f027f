// The spot check: a call from three numbers and a sheet, without hardware or record.
import type { Sheet } from "#core/cure/sheet.ts";
import type { Call } from "#core/judge/call.ts";

export interface SpotReading {
  readonly slabC: number;
  readonly airC: number;
  readonly rhPct: number;
}

/** Judges conditions only (frost, dew, limits of the sheet); no record, film, plan or night is looked at. */
export function spotCheck(sheet: Sheet, reading: SpotReading, altitudeM: number, nowMs: number): Call {
  throw new RangeError(`${sheet.id} ${reading.slabC} ${altitudeM} ${nowMs}`);
}
