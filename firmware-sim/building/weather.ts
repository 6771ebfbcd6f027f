// Weather outdoors as a function of time: invented from a seed, or played from an hourly series.
import { uniform } from "../random.ts";
import { dewPointOverWaterC, saturationOverWaterPa } from "./vapour.ts";
import { hourOfDay } from "./spec.ts";

export interface WeatherNow {
  readonly airC: number;
  /** Over water, also below 0 °C. */
  readonly dewPointC: number;
  readonly windMPerS: number;
  readonly sunWPerM2: number;
  /** 0 clear, 1 overcast. */
  readonly cloud: number;
}
export type Weather = (atMs: number) => WeatherNow;

export interface RiverWinter {
  readonly seed: number;
  readonly midnightMs: number;
  readonly meanC: number;
  /** Half of the swing from before dawn to afternoon, K. */
  readonly swingK: number;
  /** Mean dew point, °C, and how far it rises by the small hours as mist comes off the river, K. */
  readonly dewPointC: number;
  readonly mistK: number;
  /** Slow wander of the air over days, K. */
  readonly wanderK: number;
  readonly windMPerS: number;
}

const HOUR_MS = 3_600_000;

/** A slow smooth wander with standard deviation 1, of periods around 17 to 60 hours. */
function wander(seed: number, name: string, atMs: number): number {
  let sum = 0;
  for (let i = 0; i < 4; i++) {
    const periodH = 17 + 43 * uniform(seed, `${name}-period`, i);
    const phase = 2 * Math.PI * uniform(seed, `${name}-phase`, i);
    sum += Math.sin((2 * Math.PI * atMs) / (periodH * HOUR_MS) + phase);
  }
  return sum / Math.SQRT2;
}

/** A winter beside a river: coldest at six, warmest at fifteen hours, mist towards morning. */
export function riverWinter(spec: RiverWinter): Weather {
  // Counted from the building's midnight, so that the same seed gives the same days whenever they are laid.
  return (atMs) => {
    const sinceMs = atMs - spec.midnightMs;
    const hourH = hourOfDay(spec, atMs);
    const day = Math.cos((2 * Math.PI * (hourH - 15)) / 24) - 0.18 * Math.cos((4 * Math.PI * (hourH - 15)) / 24);
    const airC = spec.meanC + spec.swingK * day + spec.wanderK * wander(spec.seed, "air", sinceMs);
    const mist = Math.cos((2 * Math.PI * (hourH - 5)) / 24);
    const wantedC = spec.dewPointC + spec.mistK * mist + 0.5 * spec.wanderK * wander(spec.seed, "dew", sinceMs);
    const gust = 1 + 0.45 * wander(spec.seed, "wind", sinceMs * 6) + 0.25 * Math.cos((2 * Math.PI * (hourH - 14)) / 24);
    const cloud = Math.min(1, Math.max(0, 0.45 + 0.3 * wander(spec.seed, "cloud", sinceMs)));
    const height = Math.sin((Math.PI * (hourH - 7.5)) / 9.5);
    return {
      airC,
      dewPointC: Math.min(wantedC, airC - 0.3),
      windMPerS: Math.max(0.2, spec.windMPerS * gust),
      sunWPerM2: hourH > 7.5 && hourH < 17 ? 420 * height * (1 - 0.7 * cloud) : 0,
      cloud,
    };
  };
}

export interface WeatherHour {
  readonly atMs: number;
  readonly airC: number;
  readonly dewPointC: number;
  readonly windMPerS: number;
  readonly sunWPerM2: number;
  readonly cloud: number;
}

/** Reports further apart than this are not joined: the nearer one holds. */
const LONGEST_GAP_MS = 12 * HOUR_MS;

/** An hourly series between whose points the weather runs straight; outside it, and in long gaps, the nearest hour holds. */
export function hourlyWeather(hours: readonly WeatherHour[]): Weather {
  if (hours.length === 0) throw new RangeError("no hour of weather");
  return (atMs) => {
    let low = 0;
    let high = hours.length - 1;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if ((hours[middle] as WeatherHour).atMs <= atMs) low = middle;
      else high = middle;
    }
    const a = hours[low] as WeatherHour;
    const b = hours[high] as WeatherHour;
    const gapMs = b.atMs - a.atMs;
    const along = gapMs === 0 ? 0 : Math.min(1, Math.max(0, (atMs - a.atMs) / gapMs));
    const part = gapMs > LONGEST_GAP_MS ? Math.round(along) : along;
    const between = (from: number, to: number) => from + (to - from) * part;
    const airC = between(a.airC, b.airC);
    return {
      airC,
      dewPointC: Math.min(airC, between(a.dewPointC, b.dewPointC)),
      windMPerS: between(a.windMPerS, b.windMPerS),
      sunWPerM2: between(a.sunWPerM2, b.sunWPerM2),
      cloud: between(a.cloud, b.cloud),
    };
  };
}

/** Humidity over water of outdoor air, percent. */
export function humidityOutdoorsPct(now: WeatherNow): number {
  return Math.min(100, (100 * saturationOverWaterPa(now.dewPointC)) / saturationOverWaterPa(now.airC));
}

/** Dew point over water from temperature and humidity, °C. */
export function dewPointOfC(airC: number, rhPct: number): number {
  return dewPointOverWaterC((rhPct / 100) * saturationOverWaterPa(airC));
}
