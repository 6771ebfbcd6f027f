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

type Value = (member: OutlookMember, step: number) => number;
type Fails = (member: OutlookMember, step: number) => boolean;

function testsOf(limits: SheetLimitsNow, altitudeM: number): [string, Fails][] {
  // Each its own function, and no closure over a name: they are asked a hundred thousand times.
  const cold: Value = ({ slabColdC }, step) => slabColdC[step] as number;
  const hot: Value = ({ slabHotC }, step) => slabHotC[step] as number;
  const air: Value = ({ airC }, step) => airC[step] as number;
  const dew: Value = ({ dewPointC }, step) => dewPointC[step] as number;
  const rh: Value = (member, step) => {
    const airC = air(member, step);
    return (100 * saturatedPa(Math.min(dew(member, step), airC))) / saturatedPa(airC);
  };
  const pressurePa = pressureAtAltitudePa(altitudeM);
  const water: Value = (member, step) =>
    waterGPerKg(keptWithin(dew(member, step), { min: -80, max: 60 }), 100, pressurePa);
  const tests: [string, Fails][] = [
    ["dew-margin", (member, step) => cold(member, step) - dew(member, step) < limits.dewMarginK],
    ["condensing", (member, step) => cold(member, step) <= dew(member, step)],
  ];
  const below = (rule: string, limit: number | null, value: Value) => {
    if (limit !== null) tests.push([rule, (member, step) => value(member, step) < limit]);
  };
  const above = (rule: string, limit: number | null, value: Value) => {
    if (limit !== null) tests.push([rule, (member, step) => value(member, step) > limit]);
  };
  below("slab-cold", limits.slabC[0], cold);
  above("slab-hot", limits.slabC[1], hot);
  below("air-cold", limits.airC[0], air);
  above("air-hot", limits.airC[1], air);
  below("air-dry", limits.rhPct[0], rh);
  above("air-damp", limits.rhPct[1], rh);
  below("vapour-low", limits.waterGPerKg[0], water);
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
  for (const [rule, fails] of limits === null ? [] : testsOf(limits, altitudeM)) {
    const first = new Float64Array(hours);
    for (const member of outlook.members) {
      for (let step = 0; step < hours * stepsAnHour; step += STRIDE) {
        if (!fails(member, step)) continue;
        const hour = Math.floor(step / stepsAnHour);
        first[hour] = (first[hour] as number) + member.weight;
        break;
      }
    }
    rules.push({ rule, byHour: summed(first) });
  }
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
