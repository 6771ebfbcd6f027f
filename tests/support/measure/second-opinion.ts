// A second opinion on moist air: psychrolib, run here on a grid of states, beside its columns in psychrometrics.csv.
import psychrolib from "psychrolib";
import { dewPointC, frostPointFromDewPointC } from "#core/air/dew-point.ts";
import { saturationIcePa, saturationVapourPa, vapourPa } from "#core/air/vapour.ts";
import { pressureAtAltitudePa, waterGPerKg } from "#core/air/water.ts";
import { wetBulbC } from "#core/air/wet-bulb.ts";
import type { Check, Measured } from "../checks.ts";

const KIND = "state of a grid";

function stateChecks(airC: number, rhPct: number, altitudeM: number): Check[] {
  const row = `${airC} °C ${rhPct} % at ${altitudeM} m`;
  const pressurePa = pressureAtAltitudePa(altitudeM);
  const vapour = vapourPa(airC, rhPct);
  const theirDew = psychrolib.GetTDewPointFromVapPres(airC, vapour);
  const ourDew = dewPointC(airC, rhPct);
  const theirWater = psychrolib.GetHumRatioFromRelHum(airC, rhPct / 100, pressurePa);
  return [
    {
      row: `${row} | saturation`,
      kind: KIND,
      quantity: "second opinion: saturation",
      got: airC < 0 ? saturationIcePa(airC) : saturationVapourPa(airC),
      want: psychrolib.GetSatVapPres(airC),
    },
    {
      row: `${row} | dew or frost point`,
      kind: KIND,
      quantity: "second opinion: dew or frost point",
      got: theirDew < 0 ? frostPointFromDewPointC(ourDew) : ourDew,
      want: theirDew,
    },
    {
      row: `${row} | water`,
      kind: KIND,
      quantity: "second opinion: humidity ratio",
      got: waterGPerKg(airC, rhPct, pressurePa) / 1000,
      want: theirWater,
    },
    {
      row: `${row} | wet bulb`,
      kind: KIND,
      quantity: "second opinion: wet bulb",
      got: wetBulbC(airC, rhPct, pressurePa),
      want: psychrolib.GetTWetBulbFromHumRatio(airC, theirWater, pressurePa),
    },
    {
      row: `${row} | pressure`,
      kind: KIND,
      quantity: "second opinion: pressure",
      got: pressurePa,
      want: psychrolib.GetStandardAtmPressure(altitudeM),
    },
  ];
}

/** 1 to 49 °C, 10 to 100 %, sea level and 1600 m. Its wet bulb of saturated air above 0 °C is the air itself. */
export function measureSecondOpinion(): Measured {
  psychrolib.SetUnitSystem(psychrolib.SI);
  const temps = Array.from({ length: 13 }, (_, i) => 1 + 4 * i);
  const humidities = Array.from({ length: 10 }, (_, i) => 10 + 10 * i);
  const checks = temps.flatMap((airC) =>
    humidities.flatMap((rhPct) => [0, 1600].flatMap((altitudeM) => stateChecks(airC, rhPct, altitudeM))),
  );
  return {
    table: "psychrolib 1.1.1, run here",
    rowsRead: temps.length * humidities.length * 2,
    checks,
    notApplicable: {},
  };
}
