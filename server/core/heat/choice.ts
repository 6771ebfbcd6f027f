// One way to heat, judged: the same code as the live judge, over the members as the heater would change them.
import { applyHeat } from "#core/heat/apply.ts";
import { fuelFor, type Heater, type HeatSchedule } from "#core/heat/heater.ts";
import type { HeatChoice, PlanName, PourUnderHeat } from "#core/heat/question.ts";
import { lowestMarginK } from "#core/heat/thin.ts";
import { type HeatSetting, heatRun } from "#core/heat/warm.ts";
import type { BuildingHeat } from "#core/heat/building.ts";
import { CALL_CODES, type MemberCalls } from "#core/judge/look-ahead.ts";
import { filmViewOf } from "#core/judge/milestones.ts";
import { seenWith } from "#core/judge/seen.ts";
import { fanOf, VIEW_STRIDE } from "#core/outlook/fans.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";
import { weightedQuantile } from "#core/outlook/quantile.ts";
import type { ZoneState } from "#core/zone/state.ts";

const HOUR_MS = 3_600_000;
const AFTER_H = [4, 8, 12, 24] as const;
/** A thermostat holds its target within this. */
const REACHED_WITHIN_K = 0.3;
/** A pour less likely than this is none, as for the calls to come. */
const POUR_FROM_CHANCE = 0.1;
/** A window is saved when it is lost in fewer than one case of ten and a pour is more likely than not. Trade judgement. */
const LOST_BELOW = 0.1;
const POUR_LIKELY = 0.5;

/** When, and to what temperature, a heater runs; null = no heat but what the outlook holds. */
export interface WayToHeat {
  readonly plan: PlanName;
  readonly fromStep: number;
  /** null = to the end of the outlook. */
  readonly toStep: number | null;
  readonly targetC: number;
}

/** Everything that the choices share. */
export interface HeatCase {
  readonly state: ZoneState;
  readonly outlook: Outlook;
  readonly building: BuildingHeat;
  readonly heater: Heater;
  readonly setting: HeatSetting;
}

const weightsOf = (outlook: Outlook) => outlook.members.map(({ weight }) => weight);

const POUR = CALL_CODES.indexOf("pour");

/** Middle of the members' first times at which something is so; null when most never see it within the outlook. */
function firstMs(outlook: Outlook, is: (member: OutlookMember, step: number) => boolean): number | null {
  const steps = outlook.members.map((member) => {
    for (let step = 0; step < outlook.steps; step++) if (is(member, step)) return step;
    return Number.POSITIVE_INFINITY;
  });
  const step = weightedQuantile(steps, weightsOf(outlook), 0.5);
  return Number.isFinite(step) ? outlook.fromMs + step * outlook.stepMs : null;
}

function pourOf(outlook: Outlook, members: readonly MemberCalls[] | null): PourUnderHeat | null {
  const starts: number[] = [];
  const ends: number[] = [];
  const weights: number[] = [];
  for (const [index, calls] of (members ?? []).entries()) {
    const start = calls.indexOf(POUR);
    if (start < 0) continue;
    const end = calls.findIndex((call, step) => step > start && call !== POUR);
    starts.push(start);
    ends.push(end < 0 ? Number.POSITIVE_INFINITY : end - 1);
    weights.push(outlook.members[index]?.weight ?? 0);
  }
  const chance = weights.reduce((sum, weight) => sum + weight, 0);
  if (chance < POUR_FROM_CHANCE) return null;
  const atMs = (steps: readonly number[], q: number) =>
    outlook.fromMs + weightedQuantile(steps, weights, q) * outlook.stepMs;
  const latestMs = atMs(ends, 0.5);
  return {
    earliestMs: atMs(starts, 0.1),
    likelyMs: atMs(starts, 0.5),
    latestStartAtMs: Number.isFinite(latestMs) ? latestMs : null,
    chance: Math.min(1, chance),
  };
}

function lowestOf(outlook: Outlook): readonly [number, number, number] {
  const lows = outlook.members.map((member) => lowestMarginK(member, outlook.steps));
  const weights = weightsOf(outlook);
  return [
    weightedQuantile(lows, weights, 0.1),
    weightedQuantile(lows, weights, 0.5),
    weightedQuantile(lows, weights, 0.9),
  ];
}

/** The outlook under one way to heat, judged and summed up. `way` null = without heat. */
export function choiceOf(of: HeatCase, way: WayToHeat | null): HeatChoice {
  const { state, building, heater, setting } = of;
  const endStep = Math.max(...of.outlook.members.map(({ airC }) => airC.length));
  const schedule: HeatSchedule =
    way === null ? [] : [{ fromStep: way.fromStep, toStep: way.toStep ?? endStep, targetC: way.targetC }];
  const warm =
    way === null
      ? { outlook: of.outlook, heatKWh: 0, waterKg: 0 }
      : applyHeat(of.outlook, heatRun(building, heater, schedule, of.outlook.stepMs, setting));
  const { outlook, heatKWh, waterKg } = warm;
  const { fromMs, stepMs } = outlook;
  const { prospect, verdict, members } = seenWith(state, outlook);
  const view = filmViewOf(state, outlook, prospect);
  const middle = (value: (member: OutlookMember, step: number) => number) => fanOf(outlook, value).q50;
  const slabColdC = middle((member, step) => member.slabColdC[step] as number);
  const marginK = middle((member, step) => (member.slabColdC[step] as number) - (member.dewPointC[step] as number));
  const pour = pourOf(outlook, members);
  const viewMs = stepMs * VIEW_STRIDE;
  const atStep = (step: number) => fromMs + step * stepMs;
  const reaches = (column: "airC" | "slabColdC") =>
    way === null
      ? null
      : firstMs(outlook, (member, step) => (member[column][step] as number) >= way.targetC - REACHED_WITHIN_K);
  return {
    plan: way?.plan ?? "no-heat",
    fromMs: way === null ? null : atStep(way.fromStep),
    toMs: way === null || way.toStep === null ? null : atStep(way.toStep),
    targetC: way?.targetC ?? null,
    airReachesTargetMs: reaches("airC"),
    slabReachesTargetMs: reaches("slabColdC"),
    slabAfterC: AFTER_H.flatMap((hours) => {
      const slabC = slabColdC[Math.round((hours * HOUR_MS) / viewMs)];
      return slabC === undefined ? [] : [{ hours, slabC }];
    }),
    highestSlabC: Math.max(...slabColdC),
    lowestMarginK: lowestOf(outlook),
    lowestMarginAtMs: fromMs + marginK.indexOf(Math.min(...marginK)) * viewMs,
    film:
      view === null
        ? null
        : {
            opens: view.opens,
            closes: view.closes,
            dewSafe: view.dewSafe,
            walkOn: view.walkOn,
            chanceLost: view.chanceLost,
          },
    pour,
    callNow: verdict.call,
    savesWindow: view !== null && view.chanceLost < LOST_BELOW && (pour?.chance ?? 0) >= POUR_LIKELY,
    heatKWh,
    fuel: way === null ? null : fuelFor(heater, heatKWh),
    waterKg,
    course: {
      fromMs,
      stepMs: viewMs,
      slabColdC,
      airC: middle((member, step) => member.airC[step] as number),
      dewPointC: middle((member, step) => member.dewPointC[step] as number),
      marginK,
    },
  };
}
