// What truly happened to a film that somebody should have been told of.
import type { SheetBody } from "#contract/sheet.ts";
import { filmTruth, type Pour } from "../study/film-truth.ts";
import { type Course, STEP_MS } from "../study/play.ts";

const STEP_MIN = STEP_MS / 60_000;
/** Dew for so long makes a film blush: hard. */
const DEWED_MIN = 15;
/** Below the limit by more than sensors differ, for so long: soft. */
const BELOW_K = 0.5;
const BELOW_MIN = 15;
/** Too cold to cure by more than sensors differ, for so long: soft. */
const COLD_K = 0.3;
const COLD_MIN = 60;

export interface Harm {
  readonly what: "dew" | "below" | "cold";
  /** When the harm is done: the last minute that it takes. */
  readonly atMs: number;
}

export function harmsOf(
  sheet: SheetBody,
  course: Course,
  pour: Pour,
  endMs: number,
): { readonly harms: readonly Harm[]; readonly quiet: boolean } {
  const film = filmTruth(sheet, course, pour, new Float64Array(course.length), []);
  const leastC = sheet.limits.slabC[0];
  const harms = new Map<Harm["what"], number>();
  const add = (what: Harm["what"], atMs: number) => void (harms.has(what) || harms.set(what, atMs));
  let belowMin = 0;
  let coldMin = 0;
  let near = false;
  for (let step = 0; step < course.length; step++) {
    const atMs = course.fromMs + step * STEP_MS;
    if (atMs < pour.fromMs || atMs > endMs) continue;
    const sensitive = film.sensitive[step] === 1;
    const marginK = course.marginK[step] as number;
    const coldC = course.coldC[step] as number;
    if (sensitive && marginK < sheet.limits.dewMarginK) near = true;
    belowMin = sensitive && marginK < sheet.limits.dewMarginK - BELOW_K ? belowMin + STEP_MIN : 0;
    const cures = sensitive || (film.earned[step] as number) < 1;
    if (cures && leastC !== null && coldC < leastC) near = true;
    coldMin = cures && leastC !== null && coldC < leastC - COLD_K ? coldMin + STEP_MIN : 0;
    if ((film.dewedMin[step] as number) >= DEWED_MIN) add("dew", atMs);
    if (belowMin >= BELOW_MIN) add("below", atMs);
    if (coldMin >= COLD_MIN) add("cold", atMs);
  }
  return { harms: [...harms].map(([what, atMs]) => ({ what, atMs })), quiet: harms.size === 0 && !near };
}
