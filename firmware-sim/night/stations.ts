// Weather stations whose hourly reports the nights are played on, and readers of their files.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { clearSkyWPerM2 } from "../building/sun.ts";
import type { WeatherHour } from "../building/weather.ts";

export interface Station {
  readonly id: string;
  readonly file: string;
  readonly timezone: string;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly altitudeM: number;
}

const near = (id: string, latitudeDeg: number, longitudeDeg: number, altitudeM: number): Station => ({
  id,
  file: "weather-nyc-asos-2013.csv",
  timezone: "America/New_York",
  latitudeDeg,
  longitudeDeg,
  altitudeM,
});

export const STATIONS: readonly Station[] = [
  near("EWR", 40.7, -74.2, 5),
  near("JFK", 40.6, -73.8, 4),
  near("LGA", 40.8, -73.9, 6),
  {
    id: "greensboro",
    file: "weather-greensboro-tmy3.csv",
    timezone: "America/New_York",
    latitudeDeg: 36.1,
    longitudeDeg: -79.9,
    altitudeM: 273,
  },
  {
    id: "alamosa",
    file: "weather-surfrad-alamosa-2016-01-01.csv",
    timezone: "America/Denver",
    latitudeDeg: 37.7,
    longitudeDeg: -105.9,
    altitudeM: 2317,
  },
];

export function stationOf(id: string): Station {
  const station = STATIONS.find((each) => each.id === id);
  if (station === undefined) throw new RangeError(`no weather station "${id}"`);
  return station;
}

type Row = Readonly<Record<string, string>>;

function rowsOf(folder: string, file: string): Row[] {
  const [head, ...lines] = readFileSync(join(folder, file), "utf8").trimEnd().split("\n");
  const names = (head ?? "").trim().split(",");
  return lines.map((line) => {
    const cells = line.trim().split(",");
    return Object.fromEntries(names.map((name, i) => [name, cells[i] ?? ""]));
  });
}

/** A cell as a number; null when the station did not report it. */
function numberIn(row: Row, name: string): number | null {
  const text = row[name] ?? "";
  const value = Number(text);
  return text === "" || text === "NA" || !Number.isFinite(value) ? null : value;
}

function hourOf(row: Row, station: Station): WeatherHour | null {
  const time = row.time_utc ?? row.time_local_utcm5 ?? "";
  const airC = numberIn(row, "t_C") ?? numberIn(row, "t_air_C");
  const dewPointC = numberIn(row, "td_C");
  const atMs = Date.parse(time);
  // A report whose columns were taken from different minutes, or that failed its checks, is passed over.
  if (Number.isNaN(atMs) || airC === null || dewPointC === null || row.consistent === "0" || row.flags_ok === "0")
    return null;
  const tenths = numberIn(row, "cloud_tenths");
  const cloud = tenths === null ? 0.5 : tenths / 10;
  const sunWPerM2 =
    numberIn(row, "ghi_Wm2") ?? clearSkyWPerM2(station.latitudeDeg, station.longitudeDeg, atMs) * (1 - 0.7 * cloud);
  return { atMs, airC, dewPointC, windMPerS: Math.min(15, numberIn(row, "wind_ms") ?? 2), sunWPerM2, cloud };
}

/** A station's reports in order of time, from the folder that holds its file. */
export function weatherHours(folder: string, station: Station): readonly WeatherHour[] {
  const rows = rowsOf(folder, station.file).filter((row) => row.station === undefined || row.station === station.id);
  const hours = rows
    .map((row) => hourOf(row, station))
    .filter((hour) => hour !== null)
    .sort((a, b) => a.atMs - b.atMs);
  if (hours.length === 0) throw new RangeError(`${station.file} holds no report of ${station.id}`);
  return hours;
}
