// How far members go only spares work: who knows nothing of it, and looks at every step, says the same.
import { expect, it } from "vitest";
import { factsOf, limitsOf } from "#core/judge/facts-of.ts";
import { failingOf } from "#core/judge/failing.ts";
import { conditionsHold, holdOf } from "#core/judge/limits-along.ts";
import { lookAhead } from "#core/judge/look-ahead.ts";
import { type Prospect, prospectOf } from "#core/judge/prospect.ts";
import { emptyReach } from "#core/judge/reach.ts";
import { outlookNow } from "#core/judge/seen.ts";
import { verdictOf } from "#core/judge/verdict.ts";
import { watchOf } from "#core/judge/watch.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { saturatedPa } from "#core/air/vapour-table.ts";
import { type ZoneState, zoneState } from "#core/zone/state.ts";
import { caseFiles, readCase } from "../../support/cases.ts";
import { slowEpoxy } from "../../support/night-log.ts";

/** Within no limit, so that everybody has to look. */
function unmeasured(members: number): Prospect["reach"] {
  const reach = emptyReach(members);
  for (const column of Object.values(reach)) if (column instanceof Float64Array) column.fill(Number.NaN);
  return reach;
}

function aheadOf(state: ZoneState, outlook: Outlook, prospect: Prospect) {
  const limits = limitsOf(state);
  const facts = factsOf(state, outlook, prospect);
  const { reach } = prospect;
  const looked = { ...prospect, reach: { ...unmeasured(outlook.members.length), soon: reach.soon } };
  return [prospect, looked].map((known) => ({
    calls: lookAhead(state, outlook, known, verdictOf(facts), limits, facts.sustainedMin),
    failing: failingOf(outlook, limits, known, state.log.altitudeM),
    watch: watchOf(state, outlook, known),
  }));
}

it("of every night file, hour by hour up to what it asks: calls ahead, what may fail and what the film may meet", () => {
  let looked = 0;
  for (const file of caseFiles) {
    const { log, ask } = readCase(file);
    for (const { zone, atMs } of ask)
      for (const back of [0, 1, 2, 5, 9]) {
        const nowMs = atMs - back * 3_600_000;
        const state = zoneState(log, zone, { nowMs, heardByMs: nowMs });
        const outlook = outlookNow(state);
        if (outlook === null) continue;
        const [measured, unknown] = aheadOf(state, outlook, prospectOf(state, outlook));
        expect(measured, `${file} ${back}`).toEqual(unknown);
        looked++;
      }
  }
  expect(looked).toBeGreaterThan(100);
});

it("humidity is within its limits where reckoning it says so, from deep frost to great heat", () => {
  const steps = 4000;
  const column = (at: (step: number) => number) => Float64Array.from({ length: steps }, (_, step) => at(step));
  const airC = column((step) => -60 + ((step * 37) % 1300) / 10);
  const member: OutlookMember = {
    weight: 1,
    slabColdC: column(() => 20),
    slabHotC: column(() => 20),
    airC,
    dewPointC: column((step) => (airC[step] as number) - ((step * 91) % 4000) / 100 + 1),
  };
  for (const rhPct of [
    [null, 85],
    [null, 40],
    [30, null],
    [45, 75],
  ] as const)
    for (const air of [
      [5, 35],
      [null, null],
      [-30, 60],
    ] as const) {
      const limits = { ...slowEpoxy.limits, airC: air, rhPct, slabC: [null, null] as const };
      const hold = holdOf(limits, 0);
      let held = 0;
      for (let step = 0; step < steps; step++) {
        const roomC = airC[step] as number;
        const rh = (100 * saturatedPa(Math.min(member.dewPointC[step] as number, roomC))) / saturatedPa(roomC);
        const within = (value: number, [least, most]: readonly [number | null, number | null]) =>
          value >= (least ?? value) && value <= (most ?? value);
        const holds = within(roomC, air) && within(rh, rhPct);
        expect(conditionsHold(member, step, hold), `${roomC} ${rh} ${rhPct}`).toBe(holds);
        if (holds) held++;
      }
      expect(held).toBeGreaterThan(20);
    }
});
