// Writes a scenario as a night file: sheets, zones, nodes, journal, readings and the moments to judge.
import type { SenmlRecord } from "#contract/senml-schema.ts";
import type { NightFileBody } from "#contract/night-file.ts";
import { QUANTITY_UNITS, quantityKind } from "#contract/reading.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { HeardReading } from "./play.ts";
import type { ExpectedCall, Scenario } from "./scenario.ts";

export interface AskAt {
  readonly atMs: number;
  readonly zone: string;
}

type HeardRecord = SenmlRecord & { heardS?: number };

/** Readings as one pack, a series at a time: name, unit and time stand once at its head. */
export function packOfReadings(readings: readonly HeardReading[]): HeardRecord[] {
  const series = new Map<string, HeardReading[]>();
  for (const reading of readings) {
    const key = `${reading.node}/${reading.quantity}`;
    const list = series.get(key);
    if (list === undefined) series.set(key, [reading]);
    else list.push(reading);
  }
  const baseMs = Math.max(...readings.map((reading) => reading.atMs));
  const pack: HeardRecord[] = [];
  for (const [key, list] of series) {
    const kind = quantityKind(list[0]?.quantity ?? "");
    if (kind === null) throw new RangeError(`"${key}" is not a series that a night file holds`);
    const unit = QUANTITY_UNITS[kind][0];
    for (const [index, { atMs, heardMs, value }] of list.entries()) {
      const base = index > 0 ? {} : { bn: key, bt: baseMs / 1000, ...(unit === undefined ? {} : { bu: unit }) };
      const said = kind === "door" ? { vb: value === 1 } : { v: value };
      const heardS = Math.round((heardMs - atMs) / 1000);
      pack.push({ ...base, t: (atMs - baseMs) / 1000, ...said, ...(heardS === 0 ? {} : { heardS }) });
    }
  }
  return pack;
}

export function nightFileOf(
  scenario: Scenario,
  readings: readonly HeardReading[],
  ask: readonly AskAt[],
  expect: readonly ExpectedCall[] = [],
): NightFileBody {
  return {
    nightFile: 1,
    id: scenario.id,
    title: scenario.title,
    site: scenario.site,
    sheets: [...scenario.sheets],
    zones: [...scenario.zones],
    nodes: scenario.nodes.map((node) => node.body),
    journal: [...scenario.journal],
    readings: packOfReadings(readings),
    ask: ask.map(({ atMs, zone }) => ({ at: isoFromMs(atMs), zone })),
    ...(expect.length === 0
      ? {}
      : {
          expect: expect.map(({ atMs, zone, call, limiting }) => ({
            at: isoFromMs(atMs),
            zone,
            call,
            limiting: [...limiting],
          })),
        }),
  };
}
