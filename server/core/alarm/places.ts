// The places of signs: how long something must stand before it shows, and be well before it goes.
import { ALARM_LEVELS } from "#core/alarm/kinds.ts";
import { ALARM_RULES } from "#core/alarm/rules.ts";
import { placeOf, type Report, type Sign } from "#core/alarm/sign.ts";

const MINUTE_MS = 60_000;

export interface Place {
  /** What stands; null = nothing yet, or nothing any more. */
  readonly shown: Sign | null;
  /** Since when something worse than what stands has been seen without a break. */
  readonly worseMs: number | null;
  /** Since when it has been found better than what stands, or well, without a break. */
  readonly betterMs: number | null;
  /** Not shown again before this; 0 = at once. */
  readonly restUntilMs: number;
}

const EMPTY: Place = { shown: null, worseMs: null, betterMs: null, restUntilMs: 0 };

function isWorse(sign: Sign, than: Sign): boolean {
  const steps = ALARM_RULES[sign.kind].step - ALARM_RULES[than.kind].step;
  return steps > 0 || (steps === 0 && ALARM_LEVELS.indexOf(sign.level) > ALARM_LEVELS.indexOf(than.level));
}

function isMilder(sign: Sign, than: Sign): boolean {
  return sign.kind !== than.kind || sign.level !== than.level;
}

function seen(place: Place, sign: Sign, nowMs: number): Place {
  const { shown } = place;
  const rule = ALARM_RULES[sign.kind];
  if (shown === null || isWorse(sign, shown)) {
    const worseMs = place.worseMs ?? nowMs;
    // Rest is for what came and went; something worse of the same place is no repetition.
    const rests = shown === null && rule.step === 0 && nowMs < place.restUntilMs;
    const stands = nowMs - worseMs >= rule.raiseAfterMin * MINUTE_MS && !rests;
    return stands ? { ...place, shown: sign, worseMs: null, betterMs: null } : { ...place, worseMs, betterMs: null };
  }
  if (!isMilder(sign, shown)) return { ...place, shown: sign, worseMs: null, betterMs: null };
  const betterMs = place.betterMs ?? nowMs;
  const softens = nowMs - betterMs >= ALARM_RULES[shown.kind].clearAfterMin * MINUTE_MS;
  return softens ? { ...place, shown: sign, worseMs: null, betterMs: null } : { ...place, worseMs: null, betterMs };
}

function well(place: Place, nowMs: number): Place | null {
  const { shown } = place;
  if (shown === null) return nowMs < place.restUntilMs ? { ...place, worseMs: null } : null;
  const rule = ALARM_RULES[shown.kind];
  const betterMs = place.betterMs ?? nowMs;
  if (nowMs - betterMs < rule.clearAfterMin * MINUTE_MS) return { ...place, worseMs: null, betterMs };
  return rule.restMin === 0 ? null : { ...EMPTY, restUntilMs: nowMs + rule.restMin * MINUTE_MS };
}

/** Nobody knows: what stands stands, and no time of being well is counted. */
function unseen(place: Place, nowMs: number): Place | null {
  if (place.shown === null && place.worseMs === null && nowMs >= place.restUntilMs) return null;
  return place.betterMs === null ? place : { ...place, betterMs: null };
}

export function placesAfter(
  before: Readonly<Record<string, Place>>,
  { signs, fine }: Report,
  nowMs: number,
): Record<string, Place> {
  const places: Record<string, Place> = {};
  const present = new Map(signs.map((sign) => [placeOf(sign), sign]));
  for (const key of [...new Set([...Object.keys(before), ...present.keys()])].sort()) {
    const place = before[key] ?? EMPTY;
    const sign = present.get(key);
    const after =
      sign !== undefined ? seen(place, sign, nowMs) : fine.has(key) ? well(place, nowMs) : unseen(place, nowMs);
    if (after !== null) places[key] = after;
  }
  return places;
}
