// Night files: everything needed to judge some zones at some moments, in one JSON object.
import Type from "typebox";
import type { FeedFetch, PlainLog, Series } from "#core/zone/site.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { type Checked, type Fault, fail, readerOf } from "#contract/faults.ts";
import { entryFromBody, readEntryBody } from "#contract/journal.ts";
import { Id, IsoTime, msFromIso, Text } from "#contract/primitives.ts";
import { type Reading, readingFromRecord } from "#contract/reading.ts";
import { resolveSenml } from "#contract/senml.ts";
import { SheetSchema, sheetFromBody } from "#contract/sheet.ts";
import { SheetVersionSchema, versionsFromBodies } from "#contract/sheet-version.ts";
import { isTimezone, NodeSchema, nodeFromBody, SiteSchema, ZoneSchema, zoneFromBody } from "#contract/zone.ts";

const closed = { additionalProperties: false } as const;
const Limiting = Type.Union([Type.String(), Type.Null()]);

/** Journal entries and readings are read by their own readers, so that a fault names its own field. */
export const NightFileSchema = Type.Object(
  {
    nightFile: Type.Literal(1),
    id: Type.String({ minLength: 1, maxLength: 200 }),
    title: Type.Optional(Text),
    site: SiteSchema,
    sheets: Type.Array(SheetSchema),
    /** All that was kept of them, oldest first: coats on the floor keep theirs. Absent = only what stands is known. */
    sheetVersions: Type.Optional(Type.Array(SheetVersionSchema)),
    zones: Type.Array(ZoneSchema, { minItems: 1 }),
    nodes: Type.Array(NodeSchema),
    journal: Type.Array(Type.Unknown()),
    readings: Type.Array(Type.Unknown()),
    feed: Type.Optional(
      Type.Array(
        Type.Object(
          {
            fetchedAt: IsoTime,
            recipe: Type.Optional(Type.Integer({ minimum: 0 })),
            hours: Type.Array(Type.Object({ at: IsoTime, airC: Type.Number(), dewPointC: Type.Number() }, closed)),
          },
          closed,
        ),
      ),
    ),
    ask: Type.Array(Type.Object({ at: IsoTime, zone: Id }, closed)),
    expect: Type.Optional(
      Type.Array(
        Type.Object(
          {
            at: IsoTime,
            zone: Id,
            call: Type.String(),
            limiting: Type.Optional(Type.Array(Limiting)),
            steps: Type.Optional(Type.Array(Type.String())),
            next: Type.Optional(Limiting),
          },
          closed,
        ),
      ),
    ),
  },
  closed,
);
export type NightFileBody = Type.Static<typeof NightFileSchema>;

export interface Ask {
  readonly atMs: number;
  readonly zone: string;
}

export interface NightFile {
  readonly id: string;
  readonly log: PlainLog;
  readonly ask: readonly Ask[];
  readonly expect: NonNullable<NightFileBody["expect"]>;
}

const readShape = readerOf(NightFileSchema);
/** `heardS` is our own label in a pack: seconds after its time at which a reading was heard. */
const OURS: ReadonlySet<string> = new Set(["heardS"]);

function under(prefix: string, faults: readonly Fault[]): { readonly ok: false; readonly faults: readonly Fault[] } {
  return {
    ok: false,
    faults: faults.map((fault) => ({ field: prefix + (fault.field === "/" ? "" : fault.field), reason: fault.reason })),
  };
}

interface Heard extends Reading {
  readonly heardMs: number;
}

/** Groups readings by node and quantity, ordered by time; of two of one time the one heard first stands. */
export function seriesFromReadings(readings: readonly Heard[]): Series[] {
  const groups = new Map<string, Heard[]>();
  for (const reading of readings) {
    const key = `${reading.node}/${reading.quantity}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [reading]);
    else group.push(reading);
  }
  return [...groups.values()].map((group) => {
    const sorted = [...group].sort((a, b) => a.atMs - b.atMs || a.heardMs - b.heardMs);
    const kept = sorted.filter((reading, index) => index === 0 || reading.atMs !== sorted[index - 1]?.atMs);
    const first = kept[0] as Heard;
    return {
      node: first.node,
      quantity: first.quantity,
      atMs: kept.map((reading) => reading.atMs),
      values: kept.map((reading) => reading.value),
      heardMs: kept.map((reading) => reading.heardMs),
    };
  });
}

function readReadings(pack: readonly unknown[]): Checked<Heard[]> {
  if (pack.length === 0) return { ok: true, value: [] };
  // A night file has no "now": times in it must be absolute, which a base time far from zero makes them.
  const resolved = resolveSenml(pack, 0, OURS);
  if (!resolved.ok) return under("/readings", resolved.faults);
  const heard: Heard[] = [];
  for (const record of resolved.value) {
    const reading = readingFromRecord(record);
    if (!reading.ok) return under("/readings", reading.faults);
    if (record.t < 2 ** 28) return fail(`/readings/${record.index}/t`, "must be an absolute time");
    const heardS = (pack[record.index] as { heardS?: unknown }).heardS ?? 0;
    if (typeof heardS !== "number" || !Number.isFinite(heardS))
      return fail(`/readings/${record.index}/heardS`, "must be a number");
    heard.push({ ...reading.value, heardMs: reading.value.atMs + Math.round(heardS * 1000) });
  }
  return { ok: true, value: heard };
}

function readJournal(bodies: readonly unknown[]): Checked<JournalEntry[]> {
  const entries: JournalEntry[] = [];
  for (const [index, value] of bodies.entries()) {
    const body = readEntryBody(value);
    if (!body.ok) return under(`/journal/${index}`, body.faults);
    const atMs = msFromIso(body.value.at);
    entries.push(entryFromBody(body.value, `entry-${index + 1}`, atMs));
  }
  const ids = new Set<string>();
  for (const [index, entry] of entries.entries()) {
    if (ids.has(entry.id)) return fail(`/journal/${index}/id`, `"${entry.id}" stands twice`);
    ids.add(entry.id);
  }
  return { ok: true, value: entries };
}

function duplicateFault(list: readonly { readonly id: string }[], field: string): Fault | null {
  const seen = new Set<string>();
  for (const [index, item] of list.entries()) {
    if (seen.has(item.id)) return { field: `/${field}/${index}/id`, reason: `"${item.id}" stands twice` };
    seen.add(item.id);
  }
  return null;
}

/** Zone ids that exist in the file, parts made by a split included. */
function zoneIds(body: NightFileBody, journal: readonly JournalEntry[]): Set<string> {
  const ids = new Set(body.zones.map((zone) => zone.id));
  for (const entry of journal) if (entry.did === "split") for (const part of entry.into) ids.add(part.id);
  return ids;
}

function referenceFault(body: NightFileBody, journal: readonly JournalEntry[]): Fault | null {
  const sheets = new Set(body.sheets.map((sheet) => sheet.id));
  const zones = zoneIds(body, journal);
  for (const [index, zone] of body.zones.entries()) {
    const at = zone.system.findIndex((id) => !sheets.has(id));
    if (at >= 0) return { field: `/zones/${index}/system/${at}`, reason: `no sheet "${zone.system[at]}" in this file` };
  }
  for (const [index, node] of body.nodes.entries()) {
    if (node.zone !== null && !zones.has(node.zone))
      return { field: `/nodes/${index}/zone`, reason: `no zone "${node.zone}" in this file` };
  }
  for (const [index, entry] of journal.entries()) {
    if (entry.zone !== null && !zones.has(entry.zone))
      return { field: `/journal/${index}/zone`, reason: `no zone "${entry.zone}" in this file` };
    const named = entry.did === "coat-added" || entry.did === "filled" ? entry.sheet : undefined;
    if (named !== undefined && !sheets.has(named))
      return { field: `/journal/${index}/sheet`, reason: `no sheet "${named}" in this file` };
  }
  for (const [index, ask] of body.ask.entries()) {
    if (!zones.has(ask.zone)) return { field: `/ask/${index}/zone`, reason: `no zone "${ask.zone}" in this file` };
  }
  return null;
}

function timeFault(body: NightFileBody): Fault | null {
  const times = [
    ...body.ask.map((ask, index) => [`/ask/${index}/at`, ask.at]),
    ...(body.sheetVersions ?? []).map((one, index) => [`/sheetVersions/${index}/from`, one.from]),
    ...(body.feed ?? []).flatMap((fetch, index) => [
      [`/feed/${index}/fetchedAt`, fetch.fetchedAt],
      ...fetch.hours.map((hour, at) => [`/feed/${index}/hours/${at}/at`, hour.at]),
    ]),
  ] as const;
  const wrong = times.find(([, iso]) => Number.isNaN(msFromIso(iso as string)));
  return wrong === undefined ? null : { field: wrong[0] as string, reason: "names a day or time that does not exist" };
}

/** Reads a night file strictly; every fault names its field. Sheets with nonsense values pass: they are judged. */
export function readNightFile(value: unknown): Checked<NightFile> {
  if (typeof value !== "object" || value === null || (value as { nightFile?: unknown }).nightFile !== 1) {
    return fail("/nightFile", "must be 1: this is not a night file");
  }
  const shape = readShape(value);
  if (!shape.ok) return shape;
  const body = shape.value;
  if (!isTimezone(body.site.timezone))
    return fail("/site/timezone", `"${body.site.timezone}" is not an IANA time zone`);
  for (const field of ["sheets", "zones", "nodes"] as const) {
    const twice = duplicateFault(body[field], field);
    if (twice) return { ok: false, faults: [twice] };
  }
  const journal = readJournal(body.journal);
  if (!journal.ok) return journal;
  const reference = timeFault(body) ?? referenceFault(body, journal.value);
  if (reference) return { ok: false, faults: [reference] };
  const readings = readReadings(body.readings);
  if (!readings.ok) return readings;
  const feeds: FeedFetch[] = (body.feed ?? []).map((fetch) => ({
    fetchedMs: msFromIso(fetch.fetchedAt),
    ...(fetch.recipe === undefined ? {} : { recipe: fetch.recipe }),
    hours: fetch.hours.map((hour) => ({ atMs: msFromIso(hour.at), airC: hour.airC, dewPointC: hour.dewPointC })),
  }));
  const log: PlainLog = {
    site: body.site.id,
    timezone: body.site.timezone,
    altitudeM: body.site.altitudeM,
    sheets: body.sheets.map(sheetFromBody),
    ...(body.sheetVersions === undefined ? {} : { sheetVersions: versionsFromBodies(body.sheetVersions) }),
    zones: body.zones.map(zoneFromBody),
    nodes: body.nodes.map(nodeFromBody),
    journal: journal.value,
    series: seriesFromReadings(readings.value),
    feeds,
  };
  const ask = body.ask.map((item) => ({ atMs: msFromIso(item.at), zone: item.zone }));
  return { ok: true, value: { id: body.id, log, ask, expect: body.expect ?? [] } };
}
