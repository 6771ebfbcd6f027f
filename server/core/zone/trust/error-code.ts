// A one-wire probe that answers with its codes for power-up or no answer instead of a temperature.
import { type Moment, upperPlace } from "#core/zone/heard.ts";
import { ERROR_CODES_C, type SlabProbe } from "#core/zone/probes.ts";
import type { LogSeries } from "#core/zone/site.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";

/** Codes among the last readings: one after a start is usual, half of them is a bad wire or supply. Common practice, no source. */
const LAST = 6;
const CODES = 3;

/** The codes themselves are dropped before anything else looks; this says that there are too many of them. */
export function errorCodeDoubt(probe: SlabProbe, series: readonly LogSeries[], moment: Moment): Doubt | null {
  const found = series.find((item) => `${item.node}/${item.quantity}` === probe.name);
  if (found === undefined) return null;
  let codes = 0;
  let seen = 0;
  let sinceMs = moment.nowMs;
  for (let at = upperPlace(found.atMs, moment.nowMs) - 1; at >= 0 && seen < LAST; at--) {
    if ((found.heardMs.at(at) as number) > moment.heardByMs || (found.atMs.at(at) as number) < probe.movedMs) continue;
    seen++;
    if (!ERROR_CODES_C.includes(found.values.at(at) as number)) continue;
    codes++;
    sinceMs = found.atMs.at(at) as number;
  }
  return codes >= CODES ? { probe: probe.name, kind: "error-code", sinceMs, measured: codes, limit: CODES } : null;
}
