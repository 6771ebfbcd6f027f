// Numbers of second opinions: offsets with their sign, and humidity to a tenth.
import type { OpinionBody } from "#contract/second-opinion.ts";
import { ftFromM } from "#core/units.ts";
import { plain, showDifference, showTemperature, type UnitSystem } from "../../units/show.ts";

const sign = (value: number) => (value > 0 ? "+" : "");

export const tenthPct = (pct: number) => `${plain(pct)}\u00a0%`;
export const signedPct = (pct: number) => `${sign(Math.round(pct * 10))}${tenthPct(pct)}`;
export const signedK = (k: number, units: UnitSystem) => `${sign(Math.round(k * 10))}${showDifference(k, units)}`;

type Of = OpinionBody["of"];
export const showValue = (of: Of, value: number, units: UnitSystem) =>
  of === "rh" ? tenthPct(value) : showTemperature(value, units);
export const showBound = (of: Of, value: number, units: UnitSystem) =>
  of === "rh" ? tenthPct(value) : showDifference(value, units);
export const showOffset = (of: Of, value: number, units: UnitSystem) =>
  of === "rh" ? signedPct(value) : signedK(value, units);

/** A distance on the floor, m inside. */
export const showLength = (lengthM: number, units: UnitSystem) =>
  units === "us" ? `${plain(ftFromM(lengthM), 0)}\u00a0ft` : `${plain(lengthM)}\u00a0m`;
