// A zone of a site of many is judged from what the index finds for it: exactly as out of the whole log.
import { expect, it } from "vitest";
import { entryFromBody } from "#contract/journal.ts";
import { msFromIso } from "#contract/primitives.ts";
import { judgeZone } from "#core/judge/judge.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { entriesIn, nodesIn, seriesOf, splitsIn } from "#core/zone/site-parts.ts";
import { zoneState } from "#core/zone/state.ts";
import { lineageIn, lineageOf, allZones, zonesAt } from "#core/zone/zones.ts";
import { JournalByZone } from "../../server/live/journal-by-zone.ts";
import { LiveSite } from "../../server/live/live-site.ts";
import { siteIndexOf } from "../../server/live/site-index.ts";
import { caseFiles, readCase } from "../support/cases.ts";
import { randomOf, type Random } from "../support/random-night.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { SAMPLE_AT_MS, SAMPLE_JOURNAL, SAMPLE_SHEETS, SAMPLE_SITE } from "../support/sample-site.ts";

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;
const HOURS = 50;
const MIDDLE = { slab: 12, air: 17, rh: 55 };
const SWING = { slab: 1, air: 4, rh: 6 };

function siteOf(everyMin = 10): LiveSite {
  const journal = SAMPLE_JOURNAL.map((body) => entryFromBody(body, body.id ?? "", msFromIso(body.heardAt ?? body.at)));
  const zones = SAMPLE_BOARD.zones.map(({ zone }) => zone);
  const nodes = SAMPLE_BOARD.nodes.map(({ node }) => node);
  const record = { site: SAMPLE_SITE, sheets: SAMPLE_SHEETS, sheetVersions: [], zones, nodes };
  const site = new LiveSite(record, 0, journal, [], null, new Map());
  for (let minute = -HOURS * 60; minute <= 0; minute += everyMin)
    site.keep(
      nodes.flatMap(({ id }, index) =>
        (["slab", "slab.2", "air", "rh"] as const).map((quantity) => {
          const kind = quantity === "slab.2" ? "slab" : quantity;
          return {
            ...{ site: SAMPLE_SITE.id, node: id, quantity, atMs: SAMPLE_AT_MS + minute * MINUTE_MS },
            value: MIDDLE[kind] + index + SWING[kind] * Math.sin(minute / 230 + index / 3),
            // Some were late.
            heardMs: SAMPLE_AT_MS + minute * MINUTE_MS + (minute % 70 === 0 ? 30 * MINUTE_MS : 0),
          };
        }),
      ),
    );
  return site;
}

const without = ({ index: _index, ...log }: SiteLog): SiteLog => log;

/** The state without the log it was made from. */
function stateOf(log: SiteLog, zone: string, nowMs: number, heardByMs: number) {
  const { log: _log, probes, ...state } = zoneState(log, zone, { nowMs, heardByMs });
  const series = probes.series.map(({ node, quantity }) => `${node}/${quantity}`);
  return { ...state, probes: { ...probes, series } };
}

function agree(log: SiteLog, nowMs: number, heardByMs = nowMs): number {
  const whole = without(log);
  const zones = zonesAt(log, heardByMs);
  expect(zones).toEqual(zonesAt(whole, heardByMs));
  for (const { id } of zones) {
    expect(lineageOf(log, id, heardByMs)).toEqual(lineageIn(allZones(whole, heardByMs), log.site, id));
    expect(stateOf(log, id, nowMs, heardByMs), id).toEqual(stateOf(whole, id, nowMs, heardByMs));
  }
  return zones.length;
}

/** Something that anybody may write down about one of the zones there are. */
function randomEntry(random: Random, site: LiveSite, number: number): JournalEntry {
  const atMs = Math.round(SAMPLE_AT_MS - random.between(0, 40) * HOUR_MS);
  const heardMs = random.chance(0.8) ? atMs : Math.round(atMs + random.between(0, 6) * HOUR_MS);
  const zone = random.pick(zonesAt(site.log, SAMPLE_AT_MS)).id;
  const taken = random.pick(site.journal);
  const said: Record<string, unknown> = random.pick([
    { did: "washed" },
    { did: "inspected", surface: random.pick(["clean", "damp", "dry"]) },
    { did: "measured", slabC: random.between(8, 14), airC: random.between(10, 20), rhPct: random.between(40, 90) },
    { did: "poured", coat: 0, fromMs: atMs - HOUR_MS, toMs: atMs },
    { did: "heating", on: random.chance(0.5), zone: null },
    { did: "abraded", undoes: taken.id },
    { did: "undone", undoes: taken.id, zone: random.chance(0.5) ? taken.zone : zone },
    { did: "undone", undoes: taken.id },
    {
      did: "split",
      into: [
        { id: `${zone}-${number}-east`, areaM2: 9 },
        { id: `${zone}-${number}-west`, areaM2: 8, probes: [`${random.pick(site.record.nodes).id}/slab.2`] },
      ],
    },
  ]);
  return { id: `r-${number}`, by: "Ana", zone, atMs, heardMs, ...said } as unknown as JournalEntry;
}

it("agrees for every zone of random sites, with splits and with what was taken back, while their journals grow", () => {
  let compared = 0;
  let split = 0;
  let undone = 0;
  for (let seed = 1; seed <= 8; seed++) {
    const random = randomOf(seed);
    const site = siteOf(30);
    for (let number = 0; number < 12; number++) site.journal.push(randomEntry(random, site, number));
    compared += agree(site.log, SAMPLE_AT_MS);
    for (let number = 12; number < 24; number++) site.journal.push(randomEntry(random, site, number));
    compared += agree(site.log, SAMPLE_AT_MS);
    const pastMs = Math.round(SAMPLE_AT_MS - random.between(0, 30) * HOUR_MS);
    compared += agree(site.log, pastMs);
    compared += agree(site.log, pastMs, SAMPLE_AT_MS);
    const { id } = random.pick(zonesAt(site.log, SAMPLE_AT_MS));
    expect(judgeZone(site.log, id, SAMPLE_AT_MS)).toEqual(judgeZone(without(site.log), id, SAMPLE_AT_MS));
    split += zonesAt(site.log, SAMPLE_AT_MS).filter(({ splitFrom }) => splitFrom !== null).length;
    undone += site.journal.filter(({ undoes }) => undoes !== undefined).length;
  }
  expect(compared).toBeGreaterThan(100);
  expect(split).toBeGreaterThan(15);
  expect(undone).toBeGreaterThan(40);
});

it("does not depend on whether the series of a node have their times in common", () => {
  const { log } = siteOf();
  const apart = log.series.map(({ node, quantity, atMs, values, heardMs }) => ({
    ...{ node, quantity, atMs: atMs.slice(), values: values.slice(), heardMs: heardMs.slice() },
  }));
  expect(new Set(log.series.map(({ atMs }) => atMs)).size).toBeLessThan(log.series.length);
  for (const backH of [0, 3, 20])
    for (const { id } of zonesAt(log, SAMPLE_AT_MS)) {
      const nowMs = SAMPLE_AT_MS - backH * HOUR_MS;
      for (const heardByMs of [nowMs, SAMPLE_AT_MS])
        expect(stateOf({ ...log, series: apart }, id, nowMs, heardByMs)).toEqual(stateOf(log, id, nowMs, heardByMs));
    }
});

it("agrees for the night files", () => {
  for (const file of caseFiles) {
    const { log, ask } = readCase(file);
    const indexed = { ...log, index: siteIndexOf(log, new JournalByZone(log.journal)) };
    for (const { zone, atMs } of ask)
      expect(judgeZone(indexed, zone, atMs).call, file).toEqual(judgeZone(log, zone, atMs).call);
  }
});

it("finds what a zone has, and nothing of the others", () => {
  const { log } = siteOf(60);
  const [zone] = zonesAt(log, SAMPLE_AT_MS);
  if (zone === undefined) expect.fail("no zones");
  const nodes = nodesIn(log, [zone.id]);
  expect(nodes).toEqual(log.nodes.filter((node) => node.zone === zone.id));
  expect(seriesOf(log, nodes)).toEqual(log.series.filter(({ node }) => nodes.some(({ id }) => id === node)));
  expect(nodesIn(log, [null]).map(({ id }) => id)).toEqual(["outdoors"]);
  const ids = entriesIn(log, [zone.id]).map(({ id }) => id);
  expect(ids).toEqual(
    log.journal.filter((one) => one.zone === zone.id || one.zone === null || one.undoes).map(({ id }) => id),
  );
  expect(ids.length).toBeLessThan(log.journal.length);
  expect(splitsIn(log)).toEqual([]);
});

it("does not speak of a log with other lists", () => {
  const { log } = siteOf(60);
  const [zone] = zonesAt(log, SAMPLE_AT_MS);
  if (zone === undefined) expect.fail("no zones");
  const bare: SiteLog = { ...log, journal: [], series: [] };
  expect(entriesIn(bare, [zone.id])).toEqual([]);
  expect(seriesOf(bare, nodesIn(bare, [zone.id]))).toEqual([]);
  expect(nodesIn({ ...log, nodes: [] }, [zone.id])).toEqual([]);
});
