// Measures slab/ and air/room.ts against the situations of a site: slabs that lag, heaters that wet the air.
import { rhPctFromDewPoint } from "#core/air/dew-point.ts";
import { heaterWaterKgPerH } from "#core/air/combustion.ts";
import { steadyWaterGPerKg } from "#core/air/room.ts";
import { OVER_WATER, saturationTempC } from "#core/air/vapour.ts";
import { airDensityKgPerM3, SEA_LEVEL_PA, vapourPaFromWater, waterGPerKg } from "#core/air/water.ts";
import { slabGrid, type SlabLayer } from "#core/slab/grid.ts";
import { MATERIALS } from "#core/slab/materials.ts";
import { cFromF, fFromC, ft2FromM2, kFromFDifference, kWFromBtuPerH, m3FromFt3 } from "#core/units.ts";
import type { Check, Measured } from "../checks.ts";
import { numberOf, referenceRows, type Row } from "../csv.ts";
import { runSlab, type SlabRun } from "../slab-run.ts";

const LAG = "site-heat/slab-lag.csv";
const VENTILATION = "site-heat/ventilation.csv";

/** The table's own properties: k 1.6 W/mK, film 8 (still air 5); density and heat of stone-mix concrete. */
const CONCRETE = { ...MATERIALS.concreteStoneMix, conductivityWPerMK: 1.6 };
const SIX_INCHES: SlabLayer = { ...CONCRETE, thicknessM: 0.15 };
const EIGHT_INCHES: SlabLayer = { ...CONCRETE, thicknessM: 0.2032 };
const GROUND: SlabLayer = { ...MATERIALS.soil, thicknessM: 4 };
const BOARD: SlabLayer = { ...MATERIALS.foam, thicknessM: 0.05 };

function runOf(
  layers: readonly SlabLayer[],
  startF: number,
  filmWPerM2K: number,
  airF: (atH: number) => number,
  belowF?: number,
): SlabRun {
  const below = belowF === undefined ? {} : { bottomFilmWPerM2K: 8, bottomC: cFromF(belowF) };
  return {
    grid: slabGrid(layers),
    startC: cFromF(startF),
    filmWPerM2K,
    airC: (atS) => cFromF(airF(atS / 3600)),
    stepS: 60,
    ...below,
  };
}

/** Each situation, with the temperature in °F from which its rise or fall counts. */
const SITUATIONS: Readonly<Record<string, { readonly run: SlabRun; readonly fromF: number }>> = {
  "on grade, uninsulated": { run: runOf([SIX_INCHES, GROUND], 40, 8, () => 70), fromF: 40 },
  "on grade, insulated below": { run: runOf([SIX_INCHES, BOARD, GROUND], 40, 8, () => 70), fromF: 40 },
  "suspended 8 in, warm both sides": { run: runOf([EIGHT_INCHES], 40, 8, () => 70, 70), fromF: 40 },
  "suspended 8 in, 35 F air below": { run: runOf([EIGHT_INCHES], 40, 8, () => 70, 35), fromF: 40 },
  "on grade, still air": { run: runOf([SIX_INCHES, GROUND], 40, 5, () => 70), fromF: 40 },
  "heater off at 60 F": { run: runOf([SIX_INCHES, GROUND], 60, 8, (atH) => 35 + 25 * Math.exp(-atH / 3)), fromF: 60 },
  "warm-up morning from 45 F": {
    run: runOf([SIX_INCHES, GROUND], 45, 8, (atH) => Math.min(68, 45 + (23 * atH) / 3)),
    fromF: 45,
  },
};

/** Rise (or fall) of the surface as a share of the printed one, which is rounded to whole degrees. */
export function measureSlabLag(): Measured {
  const rows = referenceRows(LAG);
  const checks = rows.map((row): Check => {
    const situation = SITUATIONS[row.case as string];
    if (situation === undefined) throw new RangeError(`unknown situation ${row.case}`);
    const sample = runSlab(situation.run, [numberOf(row, "hours") * 3600])[0];
    if (sample === undefined) throw new RangeError("no sample");
    const id = `${row.case}, ${row.hours} h, ${row.quantity}`;
    const kind = row.case as string;
    if (row.quantity === "heatKWhPer1000Ft2") {
      const got = (sample.topHeatJPerM2 / 3.6e6) * (1000 / ft2FromM2(1));
      return { row: id, kind, quantity: "slab lag, share of the change", got, want: numberOf(row, "expected") };
    }
    const want = numberOf(row, "expected") - situation.fromF;
    const got = fFromC(sample.surfaceC) - situation.fromF;
    if (kind === "heater off at 60 F" || kind === "warm-up morning from 45 F") {
      // Changes of one or two degrees, printed in whole ones: measured in K.
      return {
        row: id,
        kind,
        quantity: "slab under changing air",
        got: kFromFDifference(got),
        want: kFromFDifference(want),
      };
    }
    return { row: id, kind, quantity: "slab lag, share of the change", got, want };
  });
  return { table: LAG, rowsRead: rows.length, checks, notApplicable: {} };
}

/** 10 000 ft² x 20 ft, outdoors 35 °F and 85 %, indoors 65 °F, 300 000 Btu/h of propane burnt in the room. */
function roomDewPointF(row: Row): number {
  const outdoor = waterGPerKg(cFromF(35), 85, SEA_LEVEL_PA);
  const room = {
    volumeM3: m3FromFt3(200_000),
    airChangesPerH: numberOf(row, "airChangesPerH"),
    airDensityKgPerM3: airDensityKgPerM3(cFromF(65), 40, SEA_LEVEL_PA),
  };
  const sourceKgPerH =
    row.heaterWater === "1" ? heaterWaterKgPerH("propane", kWFromBtuPerH(300_000), false, "gross") : 0;
  const vapour = vapourPaFromWater(steadyWaterGPerKg(room, outdoor, sourceKgPerH), SEA_LEVEL_PA);
  return fFromC(saturationTempC(OVER_WATER, vapour));
}

export function measureVentilation(): Measured {
  const rows = referenceRows(VENTILATION);
  const checks = rows.flatMap((row): Check[] => {
    const dewF = roomDewPointF(row);
    const id = `${row.airChangesPerH} changes, heater water ${row.heaterWater}`;
    const kind = "heated hall";
    const wantDewF = numberOf(row, "dewPointF");
    return [
      {
        row: `${id} | dew point`,
        kind,
        quantity: "heated hall, dew point",
        got: kFromFDifference(dewF - wantDewF),
        want: 0,
      },
      {
        row: `${id} | rh`,
        kind,
        quantity: "heated hall, humidity",
        got: rhPctFromDewPoint(cFromF(65), cFromF(dewF)),
        want: numberOf(row, "rhPctAt65F"),
      },
    ];
  });
  return { table: VENTILATION, rowsRead: rows.length, checks, notApplicable: {} };
}
