// What the client may do with the floor and not before when: only from hours that a confirmed sheet prints, by the slow side.
import type { Milestone, Sheet } from "#core/cure/sheet.ts";
import { isConfirmed } from "#core/cure/sheet-versions.ts";
import { fanTimeOf } from "#core/judge/milestones.ts";
import type { Prospect } from "#core/judge/prospect.ts";
import type { Outlook } from "#core/outlook/outlook.ts";
import type { Earned } from "#core/zone/film.ts";
import type { ZoneState } from "#core/zone/state.ts";

export type FloorUse = "walk-on" | "traffic" | "light-traffic" | "heavy-traffic" | "water" | "washing";

export interface UseAhead {
  readonly use: FloorUse;
  readonly state: "reached" | "ahead" | "unknown" | "ask-the-sheet";
  readonly reachedMs: number | null;
  /** Nine in ten foreseen courses have earned it by then. Never a promise. */
  readonly notBeforeMs: number | null;
  readonly earned: number | null;
  readonly estimated: boolean;
}

export interface HandOver {
  readonly uses: readonly UseAhead[];
  /** Lowest slab temperature of the sheet, and until when it matters; null once all is earned, or without a limit. */
  readonly keepWarm: { readonly slabMinC: number; readonly untilMs: number | null } | null;
  readonly keepShut: { readonly marginMinK: number; readonly untilMs: number | null } | null;
}

const ASK = { state: "ask-the-sheet", reachedMs: null, notBeforeMs: null, earned: null, estimated: false } as const;

/** Hours that nobody has held against the paper are nothing that a client could go by. */
function prints(sheet: Sheet, milestone: Milestone): boolean {
  return isConfirmed(sheet) && sheet.cure.some((row) => row[milestone] !== null);
}

/** The hand-over of the film on the floor; null on a bare slab or without its sheet. */
export function handOverOf(state: ZoneState, outlook: Outlook | null, prospect: Prospect): HandOver | null {
  const { film } = state;
  if (film === null) return null;
  const weights = outlook?.members.map(({ weight }) => weight) ?? [];
  /** The slow side of a milestone over the members; null when one in ten does not reach it within the outlook. */
  const slow = (of: keyof Prospect["films"][number]): number | null =>
    outlook === null || prospect.films.length === 0
      ? null
      : fanTimeOf(
          prospect.films.map((one) => one[of]),
          weights,
        ).latestMs;
  const use = (name: FloorUse, milestone: Milestone, earned: Earned, of: keyof Prospect["films"][number]): UseAhead => {
    if (!prints(film.sheet, milestone)) return { use: name, ...ASK };
    const { share, reachedMs, estimated } = earned;
    const known = { use: name, earned: Math.min(share, 1), estimated };
    if (reachedMs !== null) return { ...known, state: "reached", reachedMs, notBeforeMs: null };
    const notBeforeMs = slow(of);
    return { ...known, state: notBeforeMs === null ? "unknown" : "ahead", reachedMs: null, notBeforeMs };
  };
  const uses: UseAhead[] = [
    use("walk-on", "footH", film.foot, "footMs"),
    use("traffic", "trafficH", film.traffic, "trafficMs"),
    { use: "light-traffic", ...ASK },
    { use: "heavy-traffic", ...ASK },
    use("water", "dewSafeH", film.dewSafe, "dewSafeMs"),
    { use: "washing", ...ASK },
  ];
  const open = uses.filter(({ state: of }) => of === "ahead" || of === "unknown");
  const times = open.map(({ notBeforeMs }) => notBeforeMs);
  const [slabMinC] = film.sheet.limits.slabC;
  const past = film.dewSafe.reachedMs !== null;
  return {
    uses,
    keepWarm:
      slabMinC === null || (open.length === 0 && past)
        ? null
        : { slabMinC, untilMs: times.length === 0 || times.includes(null) ? null : Math.max(...(times as number[])) },
    keepShut: past ? null : { marginMinK: film.sheet.limits.dewMarginK, untilMs: slow("dewSafeMs") },
  };
}
