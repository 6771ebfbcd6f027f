// Truth of a played night: at any step, would a pour started then be truly fit, and would it be comfortably so?
import { msFromIso } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { SHED_ZONE } from "../scenario/shed.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { type FilmTruth, filmTruth, type Pour } from "./film-truth.ts";
import { heldMin, limitsHold, marginUncertaintyK, NO_SPARE } from "./limits-truth.ts";
import { dewSafeGains, type NightTruth, nightTruth } from "./night-truth.ts";
import { type Course, STEP_MS } from "./play.ts";

const HOUR_MS = 3_600_000;
const SUSTAINED_MIN = 60;
const COMFORT_MIN = 90;
const BLUSH_MIN = 15;
const INSPECT_MIN = 15;
const RISING_K_PER_H = 1;
const DAMP_G_PER_M2 = 2;
/** Comfort asks that no dew was near for so long, since the judge lets a surface dry slowly. */
const DRY_STEPS = (12 * HOUR_MS) / STEP_MS;
/** A fit moment counts as come back when it lasts. */
const LASTS_STEPS = 6;

export interface Truth {
  readonly sheet: SheetBody;
  readonly film: FilmTruth | null;
  readonly pourSteps: number;
  night(step: number): NightTruth;
  /** Limits held, film hard and unhurt, night holds, finish in time, and nothing on record that waits for a person. */
  fit(step: number): boolean;
  comfortable(step: number): boolean;
  /** First time after a step, at most `hours` on, from which it is fit for half an hour; null if never. */
  comesFitMs(step: number, hours: number): number | null;
  stepOf(atMs: number): number;
}

interface Record {
  readonly pour: Pour | null;
  readonly dusty: boolean;
  readonly lookedMs: readonly number[];
}

/** The record as it stands through the asks: crews of the study write nothing after 14:00 but their heat. */
function recordOf(scenario: Scenario): Record {
  const pours: Pour[] = [];
  const lookedMs: number[] = [];
  let dusty = true;
  for (const entry of scenario.journal) {
    if (entry.did === "poured")
      pours.push({ coat: entry.coat, fromMs: msFromIso(entry.from), toMs: msFromIso(entry.to) });
    if (entry.did === "abraded") dusty = true;
    if (entry.did === "cleaned") dusty = false;
    if (entry.did === "inspected" && entry.surface === "clean") lookedMs.push(msFromIso(entry.at));
  }
  return { pour: pours.at(-1) ?? null, dusty, lookedMs };
}

function sheetOf(scenario: Scenario, coat: number): SheetBody {
  const id = scenario.zones.find((zone) => zone.id === SHED_ZONE)?.system[coat];
  const sheet = scenario.sheets.find((each) => each.id === id);
  if (sheet === undefined) throw new RangeError(`${scenario.id} has no sheet for coat ${coat}`);
  return sheet;
}

/** Everything that truth needs is reckoned once; asking is cheap. `hasFeed`: a feed stands in for the first day of data. */
export function truthOf(scenario: Scenario, course: Course, hasFeed: boolean): Truth {
  const record = recordOf(scenario);
  const zone = scenario.zones.find((each) => each.id === SHED_ZONE);
  const accuracy = scenario.nodes[0]?.body.accuracy;
  if (zone === undefined || accuracy === undefined) throw new RangeError(`${scenario.id} has no floor or no node`);
  const unsureK = marginUncertaintyK(course, accuracy);
  const { pour } = record;
  const film = pour === null ? null : filmTruth(sheetOf(scenario, pour.coat), course, pour, unsureK, record.lookedMs);
  const filmLimitK = pour === null ? 0 : sheetOf(scenario, pour.coat).limits.dewMarginK;
  const sheet = sheetOf(scenario, pour === null ? 0 : pour.coat + 1);
  const porous = zone.base === "porous" && pour === null;
  const pourSteps = Math.ceil((zone.areaM2 / zone.pourM2PerH) * (HOUR_MS / STEP_MS));
  const gains = dewSafeGains(sheet, course);
  const { altitudeM } = scenario.site;
  const limitK = (k: number) => Math.max(sheet.limits.dewMarginK, film?.sensitive[k] === 1 ? filmLimitK : 0);
  const held = heldMin(course.length, (k) => limitsHold(sheet, course, altitudeM, k, limitK(k), NO_SPARE));
  const spare = {
    slabK: Math.max(0.5, 2 * accuracy.slabK),
    airK: Math.max(0.5, 2 * accuracy.airK),
    rhPct: Math.max(3, 2 * accuracy.rhPct),
    marginK: (k: number) => Math.max(0.5, 2 * (unsureK[k] as number)),
  };
  const spared = heldMin(course.length, (k) => limitsHold(sheet, course, altitudeM, k, limitK(k), spare));
  const nights = new Map<number, NightTruth>();
  const night = (k: number) => {
    const known = nights.get(k) ?? nightTruth(sheet, course, gains, k, pourSteps);
    nights.set(k, known);
    return known;
  };
  const leftMs = (k: number) =>
    film === null || film.closesMs === null
      ? Number.POSITIVE_INFINITY
      : film.closesMs - (course.fromMs + (k + pourSteps) * STEP_MS);
  const at = (column: Float64Array | undefined, k: number) => column?.[k] ?? 0;
  const fit = (k: number) =>
    (held[k] as number) >= SUSTAINED_MIN &&
    !record.dusty &&
    (film === null ||
      (at(film.earned, k) >= 1 && at(film.dewedMin, k) < BLUSH_MIN && at(film.belowMin, k) < INSPECT_MIN)) &&
    leftMs(k) >= 0 &&
    (course.wetGPerM2[k] as number) <= DAMP_G_PER_M2 &&
    !(porous && (course.riseKPerH[k] as number) > RISING_K_PER_H) &&
    night(k).holds;
  const wasDry = (k: number) => {
    for (let j = Math.max(0, k - DRY_STEPS); j <= k; j++)
      if ((course.marginK[j] as number) <= (unsureK[j] as number) || (course.wetGPerM2[j] as number) > 0) return false;
    return true;
  };
  const comfortable = (k: number) => {
    if (!fit(k) || (spared[k] as number) < COMFORT_MIN || !wasDry(k)) return false;
    if (k * STEP_MS < 24 * HOUR_MS && !hasFeed) return false;
    const { lowestMarginK, coldestC } = night(k);
    const leastC = sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY;
    if (lowestMarginK < sheet.limits.dewMarginK + 1 || coldestC < leastC + 0.5) return false;
    // The slope is measured by a cheap probe: near the limit it is not comfortable.
    if (porous && (course.riseKPerH[k] as number) > 0.7 * RISING_K_PER_H) return false;
    if (film === null) return true;
    return (
      at(film.earned, k) >= 1.1 &&
      leftMs(k) >= HOUR_MS &&
      at(film.nearlyDewedMin, k) < BLUSH_MIN &&
      at(film.nearlyBelowMin, k) < INSPECT_MIN
    );
  };
  const comesFitMs = (step: number, hours: number) => {
    let lasts = 0;
    const last = Math.min(course.length - 1, step + (hours * HOUR_MS) / STEP_MS);
    for (let k = step + 1; k <= last; k++) {
      lasts = fit(k) ? lasts + 1 : 0;
      if (lasts >= LASTS_STEPS) return course.fromMs + (k - LASTS_STEPS + 1) * STEP_MS;
    }
    return null;
  };
  const stepOf = (atMs: number) => Math.floor((atMs - course.fromMs) / STEP_MS);
  return { sheet, film, pourSteps, night, fit, comfortable, comesFitMs, stepOf };
}
