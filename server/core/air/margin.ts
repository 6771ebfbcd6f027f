// The margin: slab surface minus dew point, a temperature difference, and how far it can be off.
import { dewPointSlope } from "#core/air/dew-point.ts";
import { demandFinite, demandNotNegative } from "#core/guard.ts";

/** Accuracies of the probes as +- bounds (two sigma): slab and air in K, humidity in % RH. */
export interface ProbeAccuracy {
  readonly slabK: number;
  readonly airK: number;
  readonly rhPct: number;
}

/** Margin, K: at or below zero the surface is wet. */
export function marginK(slabC: number, dewPointC: number): number {
  demandFinite("slabC", slabC);
  demandFinite("dewPointC", dewPointC);
  return slabC - dewPointC;
}

/**
 * Uncertainty of the margin, +- K (two sigma): root sum of squares of the slab's, and of the air's and the humidity's
 * through the derivatives of the dew point. At 85 % RH, 1 % of humidity is 0.17 to 0.20 K of dew point.
 */
export function marginUncertaintyK(accuracy: ProbeAccuracy, airC: number, rhPct: number): number {
  demandNotNegative("accuracy.slabK", accuracy.slabK);
  demandNotNegative("accuracy.airK", accuracy.airK);
  demandNotNegative("accuracy.rhPct", accuracy.rhPct);
  const slope = dewPointSlope(airC, rhPct);
  return Math.hypot(accuracy.slabK, slope.kPerK * accuracy.airK, slope.kPerRhPct * accuracy.rhPct);
}
