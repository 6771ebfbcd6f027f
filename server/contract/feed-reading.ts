// Reads what a weather feed says by its recipe: hours of air temperature and dew point, or each fault with its place.
import { dewPointC } from "#core/air/dew-point.ts";
import { RH_RANGE_PCT } from "#core/air/vapour.ts";
import { cFromF, ZERO_C_IN_K } from "#core/units.ts";
import type { FeedHour } from "#core/zone/site.ts";
import type { Fault } from "#contract/faults.ts";
import type { FeedRecipe } from "#contract/feed.ts";
import { valueAt } from "#contract/json-pointer.ts";
import { localReader } from "#contract/local-time.ts";
import { msFromIso } from "#contract/primitives.ts";

export interface FeedRead {
  readonly hours: readonly FeedHour[];
  /** Hours without a value, or with a local time that the clock never showed. */
  readonly skipped: number;
  readonly faults: readonly Fault[];
}

const MOST_HOURS = 2000;
const MOST_FAULTS = 20;
/** Beyond this it is no temperature outdoors, °C: rather a unit, or a number that stands for nothing. */
const NO_WEATHER_C = 90;
/** Years 2000 to 2100. */
const TIMES_MS = { from: Date.UTC(2000, 0), to: Date.UTC(2100, 0) } as const;

interface Cell {
  readonly field: string;
  readonly value: unknown;
}

class Reading {
  readonly faults: Fault[] = [];

  constructor(
    private readonly recipe: FeedRecipe,
    private readonly body: unknown,
  ) {}

  fault(field: string, reason: string): null {
    if (this.faults.length < MOST_FAULTS) this.faults.push({ field: field === "" ? "/" : field, reason });
    return null;
  }

  private list(pointer: string): readonly unknown[] | null {
    const found = valueAt(this.body, pointer);
    if (found === undefined) return this.fault(pointer, "is not there");
    if (!Array.isArray(found)) return this.fault(pointer, "is not a list");
    if (found.length > MOST_HOURS) return this.fault(pointer, `has ${found.length} items, more than ${MOST_HOURS}`);
    return found as unknown[];
  }

  column(at: string): readonly Cell[] | null {
    const { items } = this.recipe;
    const list = this.list(items ?? at);
    if (list === null) return null;
    return list.map((item, index) =>
      items === undefined
        ? { field: `${at}/${index}`, value: item }
        : { field: `${items}/${index}${at}`, value: valueAt(item, at) },
    );
  }

  /** NaN where nothing is said. */
  number({ field, value }: Cell): number {
    if (value === null || value === undefined || value === this.recipe.missing) return Number.NaN;
    if (typeof value === "number" && Number.isFinite(value)) return value;
    this.fault(field, typeof value === "string" ? "is text, not a number" : "is not a number");
    return Number.NaN;
  }

  temperatureC(cell: Cell, unit: FeedRecipe["air"]["unit"]): number {
    const value = this.number(cell);
    const tempC = unit === "C" ? value : unit === "F" ? cFromF(value) : value - ZERO_C_IN_K;
    if (!(Math.abs(tempC) > NO_WEATHER_C)) return tempC;
    this.fault(
      cell.field,
      `would be ${tempC.toFixed(1)} °C, which is no weather: check the unit, or name it as missing`,
    );
    return Number.NaN;
  }

  humidityPct(cell: Cell, unit: "percent" | "share"): number {
    const value = this.number(cell);
    const rhPct = unit === "share" ? value * 100 : value;
    if (rhPct >= 0 && rhPct <= RH_RANGE_PCT.max) return rhPct === 0 ? Number.NaN : Math.min(rhPct, 100);
    if (!Number.isNaN(rhPct))
      this.fault(
        cell.field,
        `would be ${rhPct.toFixed(0)} % humidity: ${unit === "share" ? "is it percent?" : "check the unit"}`,
      );
    return Number.NaN;
  }
}

/** NaN for a time that no clock showed, null for a fault. */
type TimeReader = (cell: Cell) => number | null;

function timeReader(recipe: FeedRecipe, reading: Reading): TimeReader {
  const { as, zone = "UTC" } = recipe.time;
  const within = (field: string, atMs: number) =>
    atMs >= TIMES_MS.from && atMs <= TIMES_MS.to
      ? atMs
      : reading.fault(field, "is not a time of this century: seconds and milliseconds may be mixed up");
  if (as === "epoch-s" || as === "epoch-ms")
    return ({ field, value }) =>
      typeof value === "number"
        ? within(field, value * (as === "epoch-s" ? 1000 : 1))
        : reading.fault(field, "is not a number");
  if (as === "iso")
    return ({ field, value }) => {
      const atMs = typeof value === "string" ? msFromIso(value) : Number.NaN;
      return Number.isNaN(atMs) ? reading.fault(field, "is not an ISO 8601 time with its offset") : within(field, atMs);
    };
  const read = localReader(zone);
  const shown = new Map<string, number>();
  return ({ field, value }) => {
    const moments = typeof value === "string" ? read(value) : null;
    if (moments === null) return reading.fault(field, "is not a local time without offset");
    // In the hour that comes twice, the second one told is the later one.
    const times = shown.get(String(value)) ?? 0;
    shown.set(String(value), times + 1);
    const atMs = moments[Math.min(times, moments.length - 1)];
    return atMs === undefined ? Number.NaN : within(field, atMs);
  };
}

function sameLength(
  reading: Reading,
  recipe: FeedRecipe,
  times: readonly Cell[],
  other: readonly Cell[],
  at: string,
): boolean {
  if (recipe.items !== undefined || times.length === other.length) return true;
  reading.fault(at, `has ${other.length} items, and there are ${times.length} times`);
  return false;
}

/** Reads a body (JSON already parsed). With a fault there are no hours. */
export function readFeedBody(recipe: FeedRecipe, body: unknown): FeedRead {
  const reading = new Reading(recipe, body);
  const { time, air, dewPoint, humidity } = recipe;
  const water = dewPoint ?? humidity;
  const failed = () => ({ hours: [], skipped: 0, faults: reading.faults });
  const times = reading.column(time.at);
  const airs = times === null ? null : reading.column(air.at);
  const waters = airs === null || water === undefined ? null : reading.column(water.at);
  if (times === null || airs === null || waters === null || water === undefined) return failed();
  if (!sameLength(reading, recipe, times, airs, air.at) || !sameLength(reading, recipe, times, waters, water.at))
    return failed();
  const timeOf = timeReader(recipe, reading);
  const hours: FeedHour[] = [];
  let skipped = 0;
  let humid = 0;
  for (const [index, cell] of times.entries()) {
    const atMs = timeOf(cell);
    const airC = reading.temperatureC(airs[index] as Cell, air.unit);
    const waterCell = waters[index] as Cell;
    const rhPct = humidity === undefined ? Number.NaN : reading.humidityPct(waterCell, humidity.unit);
    const dewC =
      dewPoint !== undefined
        ? reading.temperatureC(waterCell, dewPoint.unit)
        : Number.isNaN(airC + rhPct) || airC < -80
          ? Number.NaN
          : dewPointC(airC, rhPct);
    if (rhPct > 1) humid++;
    if (atMs === null || Number.isNaN(atMs + airC + dewC)) skipped++;
    else hours.push({ atMs, airC, dewPointC: dewC });
  }
  if (humidity?.unit === "percent" && hours.length >= 3 && humid === 0)
    reading.fault(humidity.at, "is 1 % or less throughout: is it a share from 0 to 1?");
  if (reading.faults.length > 0) return failed();
  if (hours.length === 0) {
    reading.fault(recipe.items ?? time.at, times.length === 0 ? "is empty" : "has no hour with all its values");
    return failed();
  }
  return { hours, skipped, faults: [] };
}

/** The same from text; a body that is no JSON is a fault that shows how it begins. */
export function readFeedText(recipe: FeedRecipe, text: string): FeedRead {
  const plain = text.replace(/^\uFEFF/, "");
  try {
    return readFeedBody(recipe, JSON.parse(plain));
  } catch (error) {
    if (!(error instanceof SyntaxError)) throw error;
    const begins = plain.trim().slice(0, 40).replaceAll(/\s+/g, " ");
    const reason = begins === "" ? "is empty" : `is not JSON: it begins with ${JSON.stringify(begins)}`;
    return { hours: [], skipped: 0, faults: [{ field: "/", reason }] };
  }
}
