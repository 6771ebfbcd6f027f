// Heat that is new, put into an outlook: every member is changed by what the heater would do to it.
import { dewPointWithC, heatDifference, type HeatRun } from "#core/heat/difference.ts";
import type { Outlook, OutlookMember } from "#core/outlook/outlook.ts";

export interface HeatedOutlook {
  readonly outlook: Outlook;
  /** Energy and fumes' water from now to the end of the outlook, weighted over the members. */
  readonly heatKWh: number;
  readonly waterKg: number;
}

/** A floor spot is not pushed above the air that warms it; one that is hotter anyway (sun) stays as it is. */
function pushed(slabC: number, slabK: number, airC: number): number {
  return Math.max(slabC, Math.min(slabC + slabK, airC));
}

/** A member with the heater in its room, and what the heater gave by `untilStep`. */
function heated(
  member: OutlookMember,
  run: HeatRun,
  untilStep: number,
): { readonly member: OutlookMember; readonly heatKWh: number; readonly waterKg: number } {
  const length = member.airC.length;
  const base = { airC: member.airC, slabC: member.slabColdC, dewPointC: member.dewPointC };
  const { airK, slabK, waterGPerKg, energyKWh, waterKg } = heatDifference(run, base, length);
  const airC = new Float64Array(length);
  const slabColdC = new Float64Array(length);
  const slabHotC = new Float64Array(length);
  const dewPointC = new Float64Array(length);
  const given = { heatKWh: 0, waterKg: 0 };
  for (let step = 0; step < length; step++) {
    const warmC = (member.airC[step] as number) + (airK[step] as number);
    airC[step] = warmC;
    slabColdC[step] = pushed(member.slabColdC[step] as number, slabK[step] as number, warmC);
    slabHotC[step] = pushed(member.slabHotC[step] as number, slabK[step] as number, warmC);
    dewPointC[step] = dewPointWithC(
      member.dewPointC[step] as number,
      waterGPerKg[step] as number,
      warmC,
      run.moisture.pressurePa,
    );
    if (step >= untilStep) continue;
    given.heatKWh += energyKWh[step] as number;
    given.waterKg += waterKg[step] as number;
  }
  return { member: { ...member, airC, slabColdC, slabHotC, dewPointC }, ...given };
}

/**
 * The outlook with a heater that its members do not know of; what they hold of heat already stays in them, so that only
 * what is new is added, up to the thermostat. Members may run on beyond the outlook; energy and water count to its end.
 */
export function applyHeat(outlook: Outlook, run: HeatRun): HeatedOutlook {
  if (run.stepMs !== outlook.stepMs)
    throw new RangeError(`stepMs ${run.stepMs} is not the outlook's ${outlook.stepMs}`);
  const warm = outlook.members.map((member) => heated(member, run, outlook.steps));
  const mean = (value: (index: number) => number) =>
    outlook.members.reduce((sum, { weight }, index) => sum + weight * value(index), 0);
  return {
    outlook: { ...outlook, members: warm.map(({ member }) => member) },
    heatKWh: mean((index) => warm[index]?.heatKWh ?? 0),
    waterKg: mean((index) => warm[index]?.waterKg ?? 0),
  };
}
