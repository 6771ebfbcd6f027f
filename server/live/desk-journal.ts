// The desk's journal: entries are checked against the record of the site, kept, and judged at once.
import { randomUUID } from "node:crypto";
import type { Fault } from "#contract/faults.ts";
import { bodyFromEntry, type EntryBody, entryFromBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { burningInside } from "#core/zone/flame.ts";
import { standingEntries } from "#core/zone/heard.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { type Answer, good, refuse, refuseAll } from "./answer.ts";
import type { LiveSite } from "./live-site.ts";
import { type Office, siteOf, touchedZones } from "./office.ts";
import { fitWindow } from "./window.ts";

/** A phone's clock may run ahead by this much. */
const AHEAD_MS = 2 * 60_000;
/** An entry of something older than this changes what the strips say of the past. */
const LATE_MS = 60_000;

function coatFault(site: LiveSite, entry: JournalEntry, nowMs: number): Fault[] {
  if (entry.did !== "poured" && entry.did !== "pouring") return [];
  const zone = entry.zone === null ? null : site.zone(entry.zone, nowMs);
  const added = site.journal.filter((one) => one.did === "coat-added" && one.zone === entry.zone).length;
  const coats = (zone?.system.length ?? 0) + added;
  return entry.coat < coats
    ? []
    : [{ field: "/coat", reason: `the system of this zone has ${coats} coats, counted from 0` }];
}

function splitFaults(site: LiveSite, entry: JournalEntry): Fault[] {
  if (entry.did !== "split") return [];
  const taken = new Set([
    ...site.record.zones.map(({ id }) => id),
    ...site.journal.flatMap((one) => (one.did === "split" ? one.into.map(({ id }) => id) : [])),
  ]);
  return entry.into.flatMap(({ id }, index) => {
    const twice = taken.has(id);
    taken.add(id);
    return twice ? [{ field: `/into/${index}/id`, reason: `"${id}" is taken` }] : [];
  });
}

/** A filler is no coat, and a coat fills no cracks. */
function sheetFaults(site: LiveSite, entry: JournalEntry): Fault[] {
  if ((entry.did !== "coat-added" && entry.did !== "filled") || entry.sheet === undefined) return [];
  const sheet = site.record.sheets.find(({ id }) => id === entry.sheet);
  if (sheet === undefined) return [{ field: "/sheet", reason: `no sheet "${entry.sheet}"` }];
  const filler = sheet.kind === "filler";
  if (entry.did === "filled" && !filler)
    return [{ field: "/sheet", reason: `"${sheet.id}" is a coat, no crack filler` }];
  if (entry.did === "coat-added" && filler)
    return [{ field: "/sheet", reason: `"${sheet.id}" is a crack filler, no coat` }];
  return [];
}

/** Solvent is not opened where by the journal a heater burns: the entry contradicts what stands. */
function flameFaults(site: LiveSite, entry: JournalEntry): Fault[] {
  if (!("solvent" in entry) || entry.solvent !== true) return [];
  const heating = standingEntries(site.journal, Number.POSITIVE_INFINITY).flatMap((one) =>
    one.did === "heating" && (one.zone === null || one.zone === entry.zone) ? [one] : [],
  );
  const burning = burningInside(heating, entry.atMs);
  if (burning === null) return [];
  const since = isoFromMs(burning.fromMs ?? burning.atMs);
  return [
    { field: "/confirmed", reason: `a heater that burns inside is logged as on since ${since}: log it as off first` },
  ];
}

/** What an entry says of things that are not there. */
function entryFaults(site: LiveSite, entry: JournalEntry, nowMs: number): Fault[] {
  const faults: Fault[] = [];
  if (entry.atMs > nowMs + AHEAD_MS) faults.push({ field: "/at", reason: "lies in the future" });
  if (entry.did === "poured" && entry.toMs > nowMs + AHEAD_MS)
    faults.push({ field: "/to", reason: "lies in the future" });
  const undone = site.journal.find(({ id }) => id === entry.undoes);
  // A zone that was split is there no more, and can be joined again all the same.
  const joins = undone?.did === "split" && undone.zone === entry.zone;
  if (entry.zone !== null && site.zone(entry.zone, nowMs) === null && !joins)
    faults.push({ field: "/zone", reason: `no zone "${entry.zone}" on this site` });
  if (entry.undoes !== undefined && undone === undefined)
    faults.push({ field: "/undoes", reason: `no entry "${entry.undoes}"` });
  if ("probe" in entry && !site.knowsNode(entry.probe.split("/")[0] ?? ""))
    faults.push({ field: "/probe", reason: "is of no node of this site" });
  return [
    ...faults,
    ...flameFaults(site, entry),
    ...sheetFaults(site, entry),
    ...coatFault(site, entry, nowMs),
    ...splitFaults(site, entry),
  ];
}

/** What an entry says, without when it was heard. */
function words(entry: JournalEntry): string {
  return JSON.stringify(Object.entries({ ...entry, heardMs: 0 }).sort(([a], [b]) => (a < b ? -1 : 1)));
}

export function createJournalDesk(office: Office) {
  const { store, moments, board, stream } = office;
  return {
    journal(siteId: string, zone: string | null, fromMs: number | null): Answer<{ entries: EntryBody[] }> {
      const site = siteOf(office, siteId);
      if (!site.ok) return site;
      const entries = site.value.journal.filter(
        (entry) => (zone === null || entry.zone === zone) && (fromMs === null || entry.atMs >= fromMs),
      );
      return good({ entries: entries.map(bodyFromEntry) });
    },

    async addEntry(siteId: string, body: EntryBody, by: string | null): Promise<Answer<EntryBody>> {
      const found = siteOf(office, siteId);
      if (!found.ok) return found;
      const site = found.value;
      if (body.heardAt !== undefined) return refuse("invalid", "/heardAt", "is set by the server");
      const said = { ...entryFromBody(body, `e-${randomUUID()}`, 0), by: body.by ?? by };
      const standing = site.journal.find(({ id }) => id === said.id);
      if (standing !== undefined) {
        return words(standing) === words(said)
          ? good(bodyFromEntry(standing))
          : refuse("conflict", "/id", `"${said.id}" is another entry`);
      }
      const faults = entryFaults(site, said, moments.now());
      if (faults.length > 0) return refuseAll("invalid", faults);

      const entry: JournalEntry = { ...said, heardMs: moments.heard() };
      store.together(() => store.journal.append(siteId, entry));
      site.journal.push(entry);
      fitWindow(site, store, entry.heardMs);
      const zones = touchedZones(site, entry.zone, entry.heardMs);
      if (entry.heardMs - entry.atMs > LATE_MS || entry.undoes !== undefined) {
        for (const zone of zones) {
          board.doubtFrom(siteId, zone, entry.undoes === undefined ? entry.atMs : 0);
          board.lateFrom(siteId, zone, entry.undoes === undefined ? entry.atMs : 0);
          office.wantHindsight(siteId, zone);
        }
      }
      if (entry.did === "split" && entry.zone !== null) office.clearCall(siteId, entry.zone);
      const undone = site.journal.find(({ id }) => id === entry.undoes);
      if (undone?.did === "split") for (const { id } of undone.into) office.clearCall(siteId, id);
      const kept = bodyFromEntry(entry);
      stream.publish(siteId, "journal", entry.id, kept);
      await office.judgeNow(siteId, zones);
      return good(kept);
    },

    /** Entries that speak for a zone: its own, those of zones it was split from, and the whole site's. */
    zoneJournal(site: LiveSite, zones: readonly string[]): EntryBody[] {
      return site.journal.filter((entry) => entry.zone === null || zones.includes(entry.zone)).map(bodyFromEntry);
    },
  };
}
