// The log of one zone in a site of many: its conditions come out of it exactly as out of the whole.
import { expect, it } from "vitest";
import { entryFromBody } from "#contract/journal.ts";
import { msFromIso } from "#contract/primitives.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import { conditionsHistory } from "#core/zone/history.ts";
import { LiveSite } from "../../server/live/live-site.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { SAMPLE_AT_MS, SAMPLE_JOURNAL, SAMPLE_SHEETS, SAMPLE_SITE } from "../support/sample-site.ts";

const MINUTE_MS = 60_000;
const HOURS = 48;
const MIDDLE = { slab: 12, air: 17, rh: 55 };
const SWING = { slab: 1, air: 4, rh: 6 };

function siteOf(): LiveSite {
  const journal = SAMPLE_JOURNAL.map((body) => entryFromBody(body, body.id ?? "", msFromIso(body.heardAt ?? body.at)));
  const zones = SAMPLE_BOARD.zones.map(({ zone }) => zone);
  const nodes = SAMPLE_BOARD.nodes.map(({ node }) => node);
  const record = { site: SAMPLE_SITE, sheets: SAMPLE_SHEETS, sheetVersions: [], zones, nodes };
  const site = new LiveSite(record, 0, journal, [], null, new Map());
  for (let minute = -HOURS * 60; minute <= 0; minute += 10)
    site.keep(
      nodes.flatMap(({ id }, index) =>
        (["slab", "air", "rh"] as const).map((quantity) => ({
          ...{ site: SAMPLE_SITE.id, node: id, quantity, atMs: SAMPLE_AT_MS + minute * MINUTE_MS },
          value: MIDDLE[quantity] + index + SWING[quantity] * Math.sin(minute / 230 + index / 3),
          // Some were late.
          heardMs: SAMPLE_AT_MS + minute * MINUTE_MS + (minute % 70 === 0 ? 30 * MINUTE_MS : 0),
        })),
      ),
    );
  return site;
}

const conditions = (log: LiveSite["log"], zone: string, heardByMs: number) =>
  conditionsHistory(log, zone, SAMPLE_AT_MS - HOURS * 60 * MINUTE_MS, SAMPLE_AT_MS, 15 * MINUTE_MS, heardByMs);

function agree(site: LiveSite, moments = [SAMPLE_AT_MS, SAMPLE_AT_MS - 5 * 60 * MINUTE_MS]): void {
  for (const heardByMs of moments)
    for (const zone of site.zones(SAMPLE_AT_MS))
      expect(conditions(site.logOf(zone), zone.id, heardByMs), zone.id).toEqual(
        conditions(site.log, zone.id, heardByMs),
      );
}

it("agrees for every zone, also when entries are taken back and more is written down", () => {
  const site = siteOf();
  agree(site);
  const [zone] = site.zones(SAMPLE_AT_MS);
  if (zone === undefined) expect.fail("no zones");
  const margins = site.zones(SAMPLE_AT_MS).flatMap(({ id }) => conditions(site.log, id, SAMPLE_AT_MS).marginK);
  expect(margins.filter((value) => value !== null).length).toBeGreaterThan(100);
  const heardMs = SAMPLE_AT_MS - MINUTE_MS;
  const undoing = { id: "u-1", zone: "slip", atMs: heardMs, heardMs, by: "Ana", did: "undone", undoes: "e-3" } as const;
  site.journal.push(undoing as unknown as JournalEntry);
  agree(site);
  const own = site.logOf(zone).journal.map(({ id }) => id);
  expect(own).toEqual(site.journal.map(({ id }) => id).filter((id) => own.includes(id)));
  expect(own).toContain("u-1");
  expect(own).not.toContain("e-5");
});

it("where a zone was ever split it is the whole log", () => {
  const site = siteOf();
  const [zone] = site.zones(SAMPLE_AT_MS);
  if (zone === undefined) expect.fail("no zones");
  const body = { id: "s-1", zone: zone.id, by: null, did: "split", into: [{ id: "part", areaM2: 5 }] };
  const atMs = SAMPLE_AT_MS - 60 * MINUTE_MS;
  site.journal.push({ ...body, atMs, heardMs: atMs } as unknown as JournalEntry);
  const part = site.zones(SAMPLE_AT_MS).find(({ id }) => id === "part");
  if (part === undefined) expect.fail("no part");
  expect(site.logOf(part)).toBe(site.log);
  agree(site, [SAMPLE_AT_MS]);
});
