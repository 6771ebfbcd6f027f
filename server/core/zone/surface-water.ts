// Water on the surface: dew that formed and has not dried, and what washing left, by a balance of the surface.
import { TEMP_RANGE_C } from "#core/air/vapour.ts";
import { keptWithin } from "#core/guard.ts";
import { dewRateGPerM2H } from "#core/slab/surface-dew.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import { HOLD_MS } from "#core/zone/cursor.ts";
import type { Timeline } from "#core/zone/timeline.ts";

/** Water left on a floor after washing, g/m2. Common practice, no source. */
export const AFTER_WASHING_G_PER_M2 = 200;
/** More than this is damp, g/m2. Common practice, no source. */
export const DAMP_FROM_G_PER_M2 = 2;
/**
 * Convective film over a floor in still air, W/m2K. ISO 6946 gives 0.7 over a colder floor and 5 over a warmer one; the
 * higher side counts while dew falls and the lower while it dries, so that drying is not promised early.
 */
const FILM_W_PER_M2K = { dewing: 4, drying: 2 } as const;

export interface SurfaceWater {
  readonly gPerM2: number;
  /** A person found it damp, and nobody found it dry or clean since. */
  readonly foundDamp: boolean;
  readonly sinceMs: number | null;
}

interface Mark {
  readonly atMs: number;
  readonly kind: "washed" | "dry" | "damp";
}

function marksOf(record: ZoneRecord, fromMs: number): Mark[] {
  const washed: Mark[] = record.washed.map((entry) => ({ atMs: entry.atMs, kind: "washed" }));
  const found: Mark[] = record.inspected.flatMap((entry): Mark[] => {
    if (entry.surface === "dry" || entry.surface === "clean") return [{ atMs: entry.atMs, kind: "dry" }];
    return entry.surface === "damp" ? [{ atMs: entry.atMs, kind: "damp" }] : [];
  });
  return [...washed, ...found].filter((mark) => mark.atMs >= fromMs).sort((a, b) => a.atMs - b.atMs);
}

/** A slab above freezing that is this much warmer than the dew point takes no water, by the monotony of the formula. */
const SURELY_DRY_K = 0.001;

/** Water after so many hours at this slab and dew point, g/m2; never below zero. */
export function waterAfterGPerM2(gPerM2: number, slabC: number, dewPointC: number, hours: number): number {
  // The rate is proportional to the film. A guess at a silent probe may lie beyond what the formula takes.
  const perFilm = dewRateGPerM2H(keptWithin(slabC, TEMP_RANGE_C), keptWithin(dewPointC, TEMP_RANGE_C), 100, 1);
  const film = perFilm > 0 ? FILM_W_PER_M2K.dewing : FILM_W_PER_M2K.drying;
  return Math.max(0, gPerM2 + perFilm * film * hours);
}

/**
 * Runs the balance from `fromMs` (the film's pour, or two days back on a bare slab) to now. A gap dries nothing, and what
 * a person saw or washed since `marksFromMs` counts however long ago.
 */
export function surfaceWaterOf(
  record: ZoneRecord,
  line: Timeline,
  fromMs: number,
  marksFromMs: number,
  nowMs: number,
): SurfaceWater {
  const marks = marksOf(record, marksFromMs);
  let next = 0;
  let gPerM2 = 0;
  let damp = false;
  let sinceMs: number | null = null;
  const pass = (untilMs: number) => {
    for (; next < marks.length && (marks[next] as Mark).atMs <= untilMs; next++) {
      const mark = marks[next] as Mark;
      damp = mark.kind === "damp" || (damp && mark.kind === "washed");
      if (mark.kind === "dry") gPerM2 = 0;
      else {
        if (mark.kind === "washed") gPerM2 = AFTER_WASHING_G_PER_M2;
        sinceMs = mark.atMs;
      }
    }
  };
  pass(fromMs);
  let previousMs = Number.NaN;
  for (let index = 0; index < line.readings; index++) {
    const takenMs = line.atMs[index] as number;
    if (takenMs < fromMs) continue;
    const slabC = line.slabColdC[index] as number;
    const dewC = line.dewOnFloorC[index] as number;
    const aboveK = slabC - dewC;
    if (Number.isNaN(aboveK)) continue;
    // A stretch that holds a mark is balanced from the mark on by the reading at its end.
    const markMs =
      marks[next] !== undefined && (marks[next] as Mark).atMs <= takenMs ? (marks[next] as Mark).atMs : null;
    pass(takenMs);
    const startMs = Math.max(previousMs, markMs ?? previousMs);
    const staysDry = gPerM2 === 0 && aboveK > SURELY_DRY_K && slabC >= 0;
    if (!staysDry && takenMs - previousMs <= HOLD_MS && takenMs > startMs) {
      const before = gPerM2;
      gPerM2 = waterAfterGPerM2(gPerM2, slabC, dewC, (takenMs - startMs) / 3_600_000);
      if (before === 0 && gPerM2 > 0) sinceMs = takenMs;
    }
    previousMs = takenMs;
  }
  pass(nowMs);
  return { gPerM2, foundDamp: damp, sinceMs };
}
