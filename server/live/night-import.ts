// A night file into a site. What is there already stays; what contradicts it is refused whole, before anything is written.
import type { Fault } from "#contract/faults.ts";
import { type NightFile, type NightFileBody, readNightFile } from "#contract/night-file.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { contentOf } from "#contract/sheet-version.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { type Answer, good, refuse, refuseAll } from "./answer.ts";
import { zoneOutlineFaults } from "./desk-plan.ts";
import { systemFaults } from "./desk-records.ts";
import type { LiveSite } from "./live-site.ts";
import { type Office, siteOf, touchedZones } from "./office.ts";
import type { HeardReading } from "./ports.ts";
import { sameWords } from "./same-words.ts";

const AHEAD_MS = 2 * 60_000;
/** Readings per transaction: between two of them the server goes on. */
const CHUNK = 4000;

interface Named {
  readonly id: string;
}

/** Things of the file that are here under the same id and say something else. */
function differing<T extends Named>(
  field: string,
  given: readonly T[],
  here: readonly T[],
  saidBy: (item: T) => unknown = (item) => item,
): Fault[] {
  return given.flatMap((item, index) => {
    const standing = here.find(({ id }) => id === item.id);
    return standing === undefined || sameWords(saidBy(standing), saidBy(item))
      ? []
      : [{ field: `/${field}/${index}`, reason: `"${item.id}" is here already and differs` }];
  });
}

function added<T extends Named>(given: readonly T[], here: readonly T[]): T[] {
  return given.filter(({ id }) => !here.some((one) => one.id === id));
}

/** Entries without an id in the file get one that no other file gives. */
function entriesOf(file: NightFile, body: NightFileBody): JournalEntry[] {
  const prefix =
    file.id
      .replace(/[^A-Za-z0-9._:-]/g, "-")
      .replace(/^[^A-Za-z0-9]+/, "")
      .slice(0, 80) || "night";
  return file.log.journal.map((entry, index) => {
    const named = (body.journal[index] as { id?: unknown }).id !== undefined;
    return named ? entry : { ...entry, id: `${prefix}:${index + 1}` };
  });
}

function readingsOf(site: string, file: NightFile): HeardReading[] {
  return file.log.series.flatMap(({ node, quantity, atMs, values, heardMs }) =>
    atMs.map((at, index) => ({
      site,
      node,
      quantity,
      atMs: at,
      value: values[index] as number,
      heardMs: heardMs[index] as number,
    })),
  );
}

function futureFaults(entries: readonly JournalEntry[], readings: readonly HeardReading[], nowMs: number): Fault[] {
  const late = (atMs: number) => atMs > nowMs + AHEAD_MS;
  const faults = entries.flatMap((entry, index) =>
    late(entry.atMs) || late(entry.heardMs) ? [{ field: `/journal/${index}/at`, reason: "lies in the future" }] : [],
  );
  const reading = readings.find(({ atMs, heardMs }) => late(atMs) || late(heardMs));
  if (reading !== undefined)
    faults.push({
      field: "/readings",
      reason: `${reading.node}/${reading.quantity} at ${isoFromMs(reading.atMs)} lies in the future`,
    });
  return faults;
}

export function createNightImport(office: Office) {
  const { sites, store, moments, board } = office;

  /** Calls of this zone were shown: they must be reproducible, so what they did not know was heard now. */
  const wasJudged = (site: LiveSite, zone: string | null): boolean =>
    touchedZones(site, zone, moments.now()).some((id) => board.recorded(site.id, id) !== null);

  const standingFaults = (site: LiveSite, body: NightFileBody, entries: readonly JournalEntry[]): Fault[] => [
    ...differing(
      "sheets",
      body.sheets,
      store.records.sheets().map((one) => one.body),
      contentOf,
    ),
    ...differing("zones", body.zones, site.record.zones),
    ...differing("nodes", body.nodes, site.record.nodes),
    ...entries.flatMap((entry, index) => {
      const standing = site.journal.find(({ id }) => id === entry.id);
      const same = standing === undefined || sameWords({ ...standing, heardMs: 0 }, { ...entry, heardMs: 0 });
      return same ? [] : [{ field: `/journal/${index}/id`, reason: `"${entry.id}" is another entry here` }];
    }),
    ...body.zones.flatMap((zone, index) =>
      store.records.wasRemoved("zone", site.id, zone.id)
        ? [{ field: `/zones/${index}/id`, reason: `"${zone.id}" was removed here` }]
        : [],
    ),
  ];

  /** A sheet that is new here comes with its earlier versions: coats of the file were poured under them. */
  const keepSheet = (sheet: SheetBody, body: NightFileBody, atMs: number): void => {
    const versions = (body.sheetVersions ?? []).filter((one) => one.sheet.id === sheet.id);
    for (const { from, sheet: version } of versions) store.records.putSheet(version, Math.min(msFromIso(from), atMs));
    const last = versions.at(-1)?.sheet;
    if (last === undefined || !sameWords(last, sheet)) store.records.putSheet(sheet, atMs);
  };

  const append = (readings: readonly HeardReading[]): number => {
    const answers = store.readings.append(readings);
    const refused = readings.filter((_, index) => answers[index] === "conflict");
    store.quarantine.add(
      refused.map(({ site, node, quantity, atMs, value }) => ({
        site,
        node,
        reason: "another value stands for this time",
        field: `${quantity} ${value} at ${isoFromMs(atMs)}`,
        excerpt: "night file",
      })),
      moments.now(),
    );
    return answers.filter((answer) => answer === "stored").length;
  };

  return {
    /**
     * Zones, nodes and sheets that are missing are added. Times of hearing are kept for zones that were never judged
     * here; for the others everything was heard now, so that the calls they had can still be reproduced.
     */
    async importNightFile(
      siteId: string,
      given: unknown,
    ): Promise<Answer<{ readonly readings: number; readonly entries: number }>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const site = found.value;
      const read = readNightFile(given);
      if (!read.ok) return refuseAll("invalid", read.faults);
      const body = given as NightFileBody;
      const entries = entriesOf(read.value, body);
      const readings = readingsOf(siteId, read.value);
      const future = futureFaults(entries, readings, moments.now());
      if (future.length > 0) return refuseAll("invalid", future);
      const standing = standingFaults(site, body, entries);
      if (standing.length > 0) return refuseAll("conflict", standing);
      const system = body.zones.flatMap((zone, index) => systemFaults(body.sheets, zone, `/zones/${index}`));
      system.push(...body.zones.flatMap((zone, index) => zoneOutlineFaults(zone, `/zones/${index}`)));
      if (system.length > 0) return refuseAll("invalid", system);
      const stranger = readings.find(({ node }) => !body.nodes.some(({ id }) => id === node));
      if (stranger !== undefined) return refuse("invalid", "/readings", `no node "${stranger.node}" in this file`);

      // Readings of nodes that nobody has judged by yet say nothing until their node is on record.
      const judgedNodes = new Set(body.nodes.filter(({ zone }) => wasJudged(site, zone)).map(({ id }) => id));
      const early = readings.filter(({ node }) => !judgedNodes.has(node));
      const late = readings.filter(({ node }) => judgedNodes.has(node));
      let stored = 0;
      for (let from = 0; from < early.length; from += CHUNK) {
        stored += store.together(() => append(early.slice(from, from + CHUNK)));
        await new Promise((resolve) => setImmediate(resolve));
      }
      const atMs = moments.heard();
      const outcome = store.together(() => {
        for (const sheet of added(
          body.sheets,
          store.records.sheets().map((one) => one.body),
        ))
          keepSheet(sheet, body, atMs);
        for (const zone of added(body.zones, site.record.zones)) store.records.putZone(siteId, zone, atMs);
        for (const node of added(body.nodes, site.record.nodes)) store.records.putNode(siteId, node, atMs);
        for (const feed of read.value.log.feeds) store.feeds.append(siteId, feed);
        stored += append(late.map((reading) => ({ ...reading, heardMs: atMs })));
        return entries.filter(
          (entry) =>
            store.journal.append(siteId, wasJudged(site, entry.zone) ? { ...entry, heardMs: atMs } : entry) ===
            "stored",
        ).length;
      });
      sites.open(siteId, atMs);
      await judgeAll(siteId, atMs);
      return good({ readings: stored, entries: outcome });
    },
  };

  async function judgeAll(siteId: string, atMs: number): Promise<void> {
    const site = sites.get(siteId);
    if (site === null) return;
    const zones = touchedZones(site, null, atMs);
    for (const zone of zones) {
      board.doubtFrom(siteId, zone, 0);
      office.wantHindsight(siteId, zone);
    }
    await office.judgeNow(siteId, zones);
  }
}
