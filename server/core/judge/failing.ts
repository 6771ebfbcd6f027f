// Which limits of the next coat may fail in the coming hours: the chance, hour by hour, that each has failed by then.
import { saturatedPa } from "#core/air/vapour-table.ts";
import { pressureAtAltitudePa, waterGPerKg } from "#core/air/water.ts";
import { keptWithin } from "#core/guard.ts";
import type { SheetLimitsNow } from "#core/judge/facts.ts";
import { sureGapOf } from "#core/judge/limits-along.ts";
import type { Prospect } from "#core/judge/prospect.ts";
import type { Reach } from "#core/judge/reach.ts";
import type { Outlook, OutlookMember, RuleAhead } from "#core/outlook/outlook.ts";

const HOUR_MS = 3_600_000;
/** Less than this by the end of the outlook is not worth a line. */
const FROM_CHANCE = 0.01;
/** Looked at every half hour: limits do not come and go within it. */
const STRIDE = 3;

const at = (column: Float64Array, index: number) => column[index] as number;

/** One limit along a member. */
interface Test {
  readonly rule: string;
  /** Whether a member surely keeps it, going as far as it does. */
  keeps(index: number): boolean;
  /** Whether a member does not keep it at a step. */
  fails(member: OutlookMember, step: number): boolean;
}

function testsOf(limits: SheetLimitsNow, reach: Reach, altitudeM: number): Test[] {
  const { dewMarginK, slabC, airC, rhPct, waterGPerKg: water } = limits;
  const tests: Test[] = [
    {
      rule: "dew-margin",
      keeps: (index) => at(reach.lowMarginK, index) >= dewMarginK,
      fails: ({ slabColdC, dewPointC }, step) => (slabColdC[step] as number) - (dewPointC[step] as number) < dewMarginK,
    },
    {
      rule: "condensing",
      keeps: (index) => at(reach.lowMarginK, index) > 0,
      fails: ({ slabColdC, dewPointC }, step) => (slabColdC[step] as number) <= (dewPointC[step] as number),
    },
  ];
  const add = (rule: string, limit: number | null, test: (limit: number) => Omit<Test, "rule">) => {
    if (limit !== null) tests.push({ rule, ...test(limit) });
  };
  const rhPctOf = ({ airC: roomC, dewPointC }: OutlookMember, step: number) => {
    const fullC = roomC[step] as number;
    return (100 * saturatedPa(Math.min(dewPointC[step] as number, fullC))) / saturatedPa(fullC);
  };
  const sure = sureGapOf(limits);
  const withinSure = (index: number) =>
    at(reach.lowAirC, index) >= sure.airLeastC && at(reach.highAirC, index) <= sure.airMostC;
  add("slab-cold", slabC[0], (limit) => ({
    keeps: (index) => at(reach.lowSlabC, index) >= limit,
    fails: ({ slabColdC }, step) => (slabColdC[step] as number) < limit,
  }));
  add("slab-hot", slabC[1], (limit) => ({
    keeps: (index) => at(reach.highSlabC, index) <= limit,
    fails: ({ slabHotC }, step) => (slabHotC[step] as number) > limit,
  }));
  add("air-cold", airC[0], (limit) => ({
    keeps: (index) => at(reach.lowAirC, index) >= limit,
    fails: (member, step) => (member.airC[step] as number) < limit,
  }));
  add("air-hot", airC[1], (limit) => ({
    keeps: (index) => at(reach.highAirC, index) <= limit,
    fails: (member, step) => (member.airC[step] as number) > limit,
  }));
  add("air-dry", rhPct[0], (limit) => ({
    keeps: (index) => withinSure(index) && at(reach.highGapK, index) <= sure.dampToK,
    fails: (member, step) => rhPctOf(member, step) < limit,
  }));
  add("air-damp", rhPct[1], (limit) => ({
    keeps: (index) => withinSure(index) && at(reach.lowGapK, index) >= sure.dryFromK,
    fails: (member, step) => rhPctOf(member, step) > limit,
  }));
  const pressurePa = pressureAtAltitudePa(altitudeM);
  add("vapour-low", water[0], (limit) => ({
    keeps: () => false,
    fails: ({ dewPointC }, step) => {
      const dewC = keptWithin(dewPointC[step] as number, { min: -80, max: 60 });
      return waterGPerKg(dewC, 100, pressurePa) < limit;
    },
  }));
  return tests;
}

/** The first looked-at step before `end` at which a member fails; -1 where it does not. */
function firstFailure(test: Test, member: OutlookMember, end: number): number {
  for (let step = 0; step < end; step += STRIDE) if (test.fails(member, step)) return step;
  return -1;
}

/** Adds the chance of the hour in which something first fails, then sums up. */
function summed(first: Float64Array): number[] {
  let sum = 0;
  return Array.from(first, (chance) => (sum = Math.min(1, sum + chance)));
}

/** Rules that may fail within the outlook, the likeliest first; `films` adds the closing of the window. */
export function failingOf(
  outlook: Outlook,
  limits: SheetLimitsNow | null,
  { films, reach }: Pick<Prospect, "films" | "reach">,
  altitudeM: number,
): RuleAhead[] {
  const stepsAnHour = HOUR_MS / outlook.stepMs;
  const hours = Math.floor(outlook.steps / stepsAnHour);
  const rules: RuleAhead[] = [];
  const end = hours * stepsAnHour;
  const tests = limits === null ? [] : testsOf(limits, reach, altitudeM);
  const firsts = tests.map(() => new Float64Array(hours));
  // All tests of a member before the next one: its columns are at hand then.
  for (let index = 0; index < outlook.members.length; index++) {
    const member = outlook.members[index] as OutlookMember;
    for (let place = 0; place < tests.length; place++) {
      const test = tests[place] as Test;
      const step = test.keeps(index) ? -1 : firstFailure(test, member, end);
      if (step < 0) continue;
      const first = firsts[place] as Float64Array;
      const hour = Math.floor(step / stepsAnHour);
      first[hour] = (first[hour] as number) + member.weight;
    }
  }
  for (const [place, { rule }] of tests.entries()) rules.push({ rule, byHour: summed(firsts[place] as Float64Array) });
  const closing = new Float64Array(hours);
  for (const [index, film] of films.entries()) {
    if (film.closesMs === null) continue;
    const hour = Math.max(0, Math.floor((film.closesMs - outlook.fromMs) / HOUR_MS));
    if (hour < hours) closing[hour] = (closing[hour] as number) + (outlook.members[index]?.weight ?? 0);
  }
  rules.push({ rule: "window-closed", byHour: summed(closing) });
  const last = ({ byHour }: RuleAhead) => byHour.at(-1) ?? 0;
  return rules.filter((rule) => last(rule) >= FROM_CHANCE).sort((a, b) => last(b) - last(a));
}
