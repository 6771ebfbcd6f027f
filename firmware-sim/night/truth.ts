// What truly happens on a simulated floor: margin, film and night as the building knows them, beside which calls can be checked.
import { Building } from "../building/building.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { msFromIso } from "#contract/primitives.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { type HoursAt, hoursOf } from "./clocks.ts";
import { HOUR_MS } from "./night.ts";

const STEP_MS = 5 * 60_000;

/** The floor at one moment: its coldest and hottest patch, and the margin at the coldest. */
export interface TrueMoment {
  readonly atMs: number;
  readonly coldC: number;
  readonly hotC: number;
  readonly airC: number;
  readonly rhPct: number;
  readonly dewPointC: number;
  readonly marginK: number;
  readonly filmGPerM2: number;
}

/** True course of a zone from the nodes' first hour to `toMs`, every five minutes. */
export function trueCourse(scenario: Scenario, zone: string, toMs: number): readonly TrueMoment[] {
  const building = new Building(scenario.building, scenario.weather, scenario.fromMs - scenario.settleMs);
  const course: TrueMoment[] = [];
  for (let atMs = scenario.fromMs; atMs <= toMs; atMs += STEP_MS) {
    building.advanceTo(atMs);
    const room = building.roomOf(zone);
    const patches = building.patchesOf(zone).map((patch) => building.surfaceOf(zone, patch));
    const slabs = patches.map((patch) => patch.slabC);
    const coldC = Math.min(...slabs);
    course.push({
      atMs,
      coldC,
      hotC: Math.max(...slabs),
      airC: room.airC,
      rhPct: room.rhPct,
      dewPointC: room.dewPointC,
      marginK: coldC - room.dewPointC,
      filmGPerM2: 1000 * Math.max(...patches.map((patch) => patch.filmKgPerM2)),
    });
  }
  return course;
}

export interface TrueFilm {
  readonly coat: number;
  readonly recoatEarned: number;
  readonly dewSafeEarned: number;
  /** When its recoat maximum passed, by the integral at the hottest patch; null while it stands open. */
  readonly closedAtMs: number | null;
  /** Minutes at or below the dew point, and below the limit, while it was dew-sensitive. */
  readonly dewedMin: number;
  readonly belowLimitMin: number;
}

/** The film of the last pour that ended by `atMs`. */
export function trueFilm(
  scenario: Scenario,
  course: readonly TrueMoment[],
  zone: string,
  atMs: number,
): TrueFilm | null {
  const pours = scenario.journal.flatMap((entry) =>
    entry.did === "poured" && entry.zone === zone
      ? [{ coat: entry.coat, fromMs: msFromIso(entry.from), toMs: msFromIso(entry.to) }]
      : [],
  );
  const pour = pours.filter((each) => each.toMs <= atMs).at(-1);
  const system = scenario.zones.find((each) => each.id === zone)?.system ?? [];
  const sheet = scenario.sheets.find((each) => each.id === system[pour?.coat ?? -1]);
  if (pour === undefined || sheet === undefined) return null;
  let recoatEarned = 0;
  let dewSafeEarned = 0;
  let used = 0;
  let closedAtMs: number | null = null;
  let dewedMin = 0;
  let belowLimitMin = 0;
  const [recoatH, untilH, dewSafeH] = (["recoatFromH", "recoatUntilH", "dewSafeH"] as const).map((clock) =>
    hoursOf(sheet, clock),
  ) as [HoursAt, HoursAt, HoursAt];
  const stepH = STEP_MS / HOUR_MS;
  for (const now of course) {
    if (now.atMs < pour.fromMs || now.atMs > atMs) continue;
    if (sheet.window === "closes") used += stepH / untilH(now.hotC);
    if (used >= 1) closedAtMs ??= now.atMs;
    if (dewSafeEarned < 1) {
      if (now.marginK <= 0) dewedMin += STEP_MS / 60_000;
      if (now.marginK < sheet.limits.dewMarginK) belowLimitMin += STEP_MS / 60_000;
    }
    if (now.atMs < pour.toMs) continue;
    recoatEarned += stepH / recoatH(now.coldC);
    dewSafeEarned += stepH / dewSafeH(now.coldC);
  }
  return { coat: pour.coat, recoatEarned, dewSafeEarned, closedAtMs, dewedMin, belowLimitMin };
}

export interface TrueNight {
  readonly lowestMarginK: number;
  readonly lowestAtMs: number;
  readonly coldestC: number;
  readonly hours: number;
  /** Margin and least slab temperature of the sheet hold through the pour and until the coat is past dew. */
  readonly holds: boolean;
}

/** What a coat of `sheet` laid at `atMs` would truly meet until it is past dew (36 hours at the most). */
export function trueNight(sheet: SheetBody, course: readonly TrueMoment[], atMs: number, pourH: number): TrueNight {
  const pouredMs = atMs + pourH * HOUR_MS;
  const dewSafeH = hoursOf(sheet, "dewSafeH");
  let earned = 0;
  let lowest = { marginK: Number.POSITIVE_INFINITY, atMs };
  let coldestC = Number.POSITIVE_INFINITY;
  let endMs = atMs;
  for (const now of course) {
    if (now.atMs < atMs || now.atMs > atMs + 36 * HOUR_MS || earned >= 1) continue;
    if (now.marginK < lowest.marginK) lowest = now;
    coldestC = Math.min(coldestC, now.coldC);
    endMs = now.atMs;
    if (now.atMs >= pouredMs) earned += STEP_MS / HOUR_MS / dewSafeH(now.coldC);
  }
  const leastC = sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY;
  return {
    lowestMarginK: lowest.marginK,
    lowestAtMs: lowest.atMs,
    coldestC,
    hours: (endMs - atMs) / HOUR_MS,
    holds: lowest.marginK >= sheet.limits.dewMarginK && coldestC >= leastC,
  };
}
