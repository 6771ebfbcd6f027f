// Which limits of the next coat may fail in the coming hours: the chance, hour by hour, that each has failed by then.
import { saturatedPa } from "#core/air/vapour-table.ts";
import { pressureAtAltitudePa, waterGPerKg } from "#core/air/water.ts";
import { keptWithin } from "#core/guard.ts";
import type { SheetLimitsNow } from "#core/judge/facts.ts";
import { sureGapOf } from "#core/judge/limits-along.ts";
import type { FilmAhead } from "#core/judge/member-walk.ts";
import type { Outlook, OutlookMember, RuleAhead } from "#core/outlook/outlook.ts";

const HOUR_MS = 3_600_000;
/** Less than this by the end of the outlook is not worth a line. */
const FROM_CHANCE = 0.01;
/** Looked at every half hour: limits do not come and go within it. */
const STRIDE = 3;

/** How far a member goes at the looked-at steps: what it never comes near need not be looked for. NaN is passed over, as by limits. */
interface Reach {
  readonly lowMarginK: number;
  readonly lowSlabC: number;
  readonly highSlabC: number;
  readonly lowAirC: number;
  readonly highAirC: number;
  /** Of the air above its dew point. */
  readonly lowGapK: number;
  readonly highGapK: number;
}

function reachOf({ slabColdC, slabHotC, airC, dewPointC }: OutlookMember, end: number): Reach {
  let lowMarginK = Number.POSITIVE_INFINITY;
  let lowSlabC = Number.POSITIVE_INFINITY;
  let highSlabC = Number.NEGATIVE_INFINITY;
  let lowAirC = Number.POSITIVE_INFINITY;
  let highAirC = Number.NEGATIVE_INFINITY;
  let lowGapK = Number.POSITIVE_INFINITY;
  let highGapK = Number.NEGATIVE_INFINITY;
  for (let step = 0; step < end; step += STRIDE) {
    const coldC = slabColdC[step] as number;
    const hotC = slabHotC[step] as number;
    const roomC = airC[step] as number;
    const dewC = dewPointC[step] as number;
    const marginK = coldC - dewC;
    const gapK = roomC - dewC;
    if (marginK < lowMarginK) lowMarginK = marginK;
    if (coldC < lowSlabC) lowSlabC = coldC;
    if (hotC > highSlabC) highSlabC = hotC;
    if (roomC < lowAirC) lowAirC = roomC;
    if (roomC > highAirC) highAirC = roomC;
    if (gapK < lowGapK) lowGapK = gapK;
    if (gapK > highGapK) highGapK = gapK;
  }
  return { lowMarginK, lowSlabC, highSlabC, lowAirC, highAirC, lowGapK, highGapK };
}

/** One limit along a member. */
interface Test {
  readonly rule: string;
  /** Whether a member that goes so far surely keeps it. */
  keeps(reach: Reach): boolean;
  /** Whether a member does not keep it at a step. */
  fails(member: OutlookMember, step: number): boolean;
}

function testsOf(limits: SheetLimitsNow, altitudeM: number): Test[] {
  const { dewMarginK, slabC, airC, rhPct, waterGPerKg: water } = limits;
  const tests: Test[] = [
    {
      rule: "dew-margin",
      keeps: ({ lowMarginK }) => lowMarginK >= dewMarginK,
      fails: ({ slabColdC, dewPointC }, step) => (slabColdC[step] as number) - (dewPointC[step] as number) < dewMarginK,
    },
    {
      rule: "condensing",
      keeps: ({ lowMarginK }) => lowMarginK > 0,
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
  const withinSure = ({ lowAirC, highAirC }: Reach) => lowAirC >= sure.airLeastC && highAirC <= sure.airMostC;
  add("slab-cold", slabC[0], (limit) => ({
    keeps: ({ lowSlabC }) => lowSlabC >= limit,
    fails: ({ slabColdC }, step) => (slabColdC[step] as number) < limit,
  }));
  add("slab-hot", slabC[1], (limit) => ({
    keeps: ({ highSlabC }) => highSlabC <= limit,
    fails: ({ slabHotC }, step) => (slabHotC[step] as number) > limit,
  }));
  add("air-cold", airC[0], (limit) => ({
    keeps: ({ lowAirC }) => lowAirC >= limit,
    fails: (member, step) => (member.airC[step] as number) < limit,
  }));
  add("air-hot", airC[1], (limit) => ({
    keeps: ({ highAirC }) => highAirC <= limit,
    fails: (member, step) => (member.airC[step] as number) > limit,
  }));
  add("air-dry", rhPct[0], (limit) => ({
    keeps: (reach) => withinSure(reach) && reach.highGapK <= sure.dampToK,
    fails: (member, step) => rhPctOf(member, step) < limit,
  }));
  add("air-damp", rhPct[1], (limit) => ({
    keeps: (reach) => withinSure(reach) && reach.lowGapK >= sure.dryFromK,
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
  films: readonly FilmAhead[],
  altitudeM: number,
): RuleAhead[] {
  const stepsAnHour = HOUR_MS / outlook.stepMs;
  const hours = Math.floor(outlook.steps / stepsAnHour);
  const rules: RuleAhead[] = [];
  const end = hours * stepsAnHour;
  const tests = limits === null ? [] : testsOf(limits, altitudeM);
  const firsts = tests.map(() => new Float64Array(hours));
  // All tests of a member before the next one: its columns are at hand then.
  for (const member of outlook.members) {
    const reach = reachOf(member, end);
    for (let place = 0; place < tests.length; place++) {
      const test = tests[place] as Test;
      const step = test.keeps(reach) ? -1 : firstFailure(test, member, end);
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
