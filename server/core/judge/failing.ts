// Which limits of the next coat may fail in the coming hours: the chance, hour by hour, that each has failed by then.
import { saturatedPa } from "#core/air/vapour-table.ts";
import { pressureAtAltitudePa, waterGPerKg } from "#core/air/water.ts";
import { keptWithin } from "#core/guard.ts";
import type { SheetLimitsNow } from "#core/judge/facts.ts";
import type { FilmAhead } from "#core/judge/member-walk.ts";
import type { Outlook, OutlookMember, RuleAhead } from "#core/outlook/outlook.ts";

const HOUR_MS = 3_600_000;
/** Less than this by the end of the outlook is not worth a line. */
const FROM_CHANCE = 0.01;
/** Looked at every half hour: limits do not come and go within it. */
const STRIDE = 3;

/** The first looked-at step before `end` at which a member fails; -1 where it does not. */
type FirstFailure = (member: OutlookMember, end: number) => number;

/** The same for a column, or what is made of one, that must not fall below a limit, or rise above it. */
function firstOutside(column: Float64Array, limit: number, sign: 1 | -1, end: number): number {
  for (let step = 0; step < end; step += STRIDE) if (sign * (column[step] as number) < sign * limit) return step;
  return -1;
}

function testsOf(limits: SheetLimitsNow, altitudeM: number): [string, FirstFailure][] {
  // Loops of their own over columns: they look at a hundred thousand values.
  const { dewMarginK } = limits;
  const tests: [string, FirstFailure][] = [
    [
      "dew-margin",
      ({ slabColdC, dewPointC }, end) => {
        for (let step = 0; step < end; step += STRIDE)
          if ((slabColdC[step] as number) - (dewPointC[step] as number) < dewMarginK) return step;
        return -1;
      },
    ],
    [
      "condensing",
      ({ slabColdC, dewPointC }, end) => {
        for (let step = 0; step < end; step += STRIDE)
          if ((slabColdC[step] as number) <= (dewPointC[step] as number)) return step;
        return -1;
      },
    ],
  ];
  const add = (rule: string, limit: number | null, first: (limit: number) => FirstFailure) => {
    if (limit !== null) tests.push([rule, first(limit)]);
  };
  const humidity =
    (limit: number, sign: 1 | -1): FirstFailure =>
    ({ airC, dewPointC }, end) => {
      for (let step = 0; step < end; step += STRIDE) {
        const fullC = airC[step] as number;
        const rhPct = (100 * saturatedPa(Math.min(dewPointC[step] as number, fullC))) / saturatedPa(fullC);
        if (sign * rhPct < sign * limit) return step;
      }
      return -1;
    };
  const pressurePa = pressureAtAltitudePa(altitudeM);
  const water =
    (limit: number): FirstFailure =>
    ({ dewPointC }, end) => {
      for (let step = 0; step < end; step += STRIDE) {
        const dewC = keptWithin(dewPointC[step] as number, { min: -80, max: 60 });
        if (waterGPerKg(dewC, 100, pressurePa) < limit) return step;
      }
      return -1;
    };
  add(
    "slab-cold",
    limits.slabC[0],
    (limit) =>
      ({ slabColdC }, end) =>
        firstOutside(slabColdC, limit, 1, end),
  );
  add(
    "slab-hot",
    limits.slabC[1],
    (limit) =>
      ({ slabHotC }, end) =>
        firstOutside(slabHotC, limit, -1, end),
  );
  add(
    "air-cold",
    limits.airC[0],
    (limit) =>
      ({ airC }, end) =>
        firstOutside(airC, limit, 1, end),
  );
  add(
    "air-hot",
    limits.airC[1],
    (limit) =>
      ({ airC }, end) =>
        firstOutside(airC, limit, -1, end),
  );
  add("air-dry", limits.rhPct[0], (limit) => humidity(limit, 1));
  add("air-damp", limits.rhPct[1], (limit) => humidity(limit, -1));
  add("vapour-low", limits.waterGPerKg[0], water);
  return tests;
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
    for (let place = 0; place < tests.length; place++) {
      const [, firstFailure] = tests[place] as (typeof tests)[number];
      const step = firstFailure(member, end);
      if (step < 0) continue;
      const first = firsts[place] as Float64Array;
      const hour = Math.floor(step / stepsAnHour);
      first[hour] = (first[hour] as number) + member.weight;
    }
  }
  for (const [place, [rule]] of tests.entries()) rules.push({ rule, byHour: summed(firsts[place] as Float64Array) });
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
