// A coat along a member: what walking each step once says is what looking at each start by itself says.
import { expect, it } from "vitest";
import { cureCurve } from "#core/cure/curve.ts";
import { rateAt, rateTable } from "#core/cure/rate-table.ts";
import { pourAhead, poursOf } from "#core/judge/member-walk.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { row, slowEpoxy } from "../../support/night-log.ts";
import { randomOf } from "../../support/random-night.ts";

const STEPS = 216;
const LENGTH = 432;
const sheet = { ...slowEpoxy, cure: [row(5, { dewSafeH: 40 }), row(20, { dewSafeH: 8 })] };
const rates = rateTable(cureCurve(sheet, "dewSafeH"));

function memberOf(slabC: number, swingK: number, aboveK: number, at: number): OutlookMember {
  const column = (value: (step: number) => number) => Float64Array.from({ length: LENGTH }, (_, step) => value(step));
  const slabColdC = column((step) => slabC + swingK * Math.sin(step / 23 + at));
  return {
    weight: 1,
    slabColdC,
    slabHotC: slabColdC,
    airC: slabColdC,
    dewPointC: column((step) => slabC - aboveK + 0.5 * swingK * Math.sin(step / 17)),
  };
}

/** The last step of the dew-sensitive time of a pour that starts at a step; null if the member ends before it. */
function endOf({ slabColdC }: OutlookMember, start: number, pourSteps: number): number | null {
  let earned = 0;
  for (let step = start + pourSteps + 1; step < LENGTH; step++) {
    earned += rateAt(rates, slabColdC[step] as number) / 6;
    if (earned >= 1 - 1e-9) return step;
  }
  return null;
}

it("over members that always hold, hold now and then, and never end", () => {
  const random = randomOf(20_261_127);
  const seen = { all: 0, some: 0, none: 0, endless: 0 };
  for (let round = 0; round < 300; round++) {
    const member = memberOf(random.between(-2, 22), random.between(0, 5), random.between(1, 9), random.between(0, 6));
    const pourSteps = 1 + Math.floor(random.between(0, 40));
    const pours = poursOf(sheet, pourSteps, STEPS, LENGTH);
    const outlook: Outlook = {
      fromMs: 0,
      stepMs: 600_000,
      steps: STEPS,
      basis: [],
      feedFetchedMs: null,
      members: [member],
    };
    const pour = pourAhead(pours, member, outlook);
    const margins = member.slabColdC.map((slabC, step) => slabC - (member.dewPointC[step] as number));
    const bad = (step: number) =>
      (margins[step] as number) < sheet.limits.dewMarginK ||
      (member.slabColdC[step] as number) < (sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY);
    const holds = Uint8Array.from({ length: STEPS }, (_, start) => {
      const end = endOf(member, start, pourSteps);
      if (end === null) return 0;
      for (let step = start; step <= end; step++) if (bad(step)) return 0;
      return 1;
    });
    const endStep = endOf(member, 0, pourSteps) ?? LENGTH;
    const night = margins.slice(0, Math.min(endStep, LENGTH - 1) + 1);
    const lowMarginK = Math.min(...night);
    expect(pour).toEqual({
      holds,
      endStep,
      lowMarginK,
      lowStep: night.indexOf(lowMarginK),
      coldC: Math.min(...member.slabColdC.slice(0, night.length)),
    });
    const sum = holds.reduce((total, each) => total + each, 0);
    seen[sum === STEPS ? "all" : sum > 0 ? "some" : "none"]++;
    if (endStep === LENGTH) seen.endless++;
  }
  for (const count of Object.values(seen)) expect(count).toBeGreaterThan(10);
});
