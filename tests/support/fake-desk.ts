// A desk kept in memory for tests of the HTTP door: it knows the sample board and keeps what is added to it.
import { createHash } from "node:crypto";
import type { FeedStateBody } from "#contract/feed.ts";
import type { SeriesBody, ZonePageBody } from "#contract/board.ts";
import { fail } from "#contract/faults.ts";
import { bodyFromHeatPlan, type HeatPlanBody, heatQuestionFromBody } from "#contract/heat-plan.ts";
import type { EntryBody } from "#contract/journal.ts";
import { readNightFile } from "#contract/night-file.ts";
import type { PhotoBody } from "#contract/photo.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";
import { heatPlan } from "#core/heat/plan.ts";
import type { Answer, Refusal } from "../../server/http/answer.ts";
import type { Desk } from "../../server/http/desk.ts";
import { readCase } from "./cases.ts";
import { fakeAlarmDesk } from "./fake-alarms.ts";
import { fakeNodeDesk } from "./fake-nodes.ts";
import { fakePdfDesk } from "./fake-pdf-desk.ts";
import { fakeRecordsDesk } from "./fake-records-desk.ts";
import { fakeSetUpDesk } from "./fake-set-up-desk.ts";
import { SAMPLE_BOARD } from "./sample-board.ts";
import { sampleTakeoff } from "./sample-takeoff.ts";
import { at, SAMPLE_AT_MS, SAMPLE_JOURNAL, SAMPLE_SHEETS } from "./sample-site.ts";

const refuse = (refusal: Refusal["refusal"], field: string, reason: string): Refusal => ({
  ...fail(field, reason),
  refusal,
});
const good = <T>(value: T): Answer<T> => ({ ok: true, value });

/** A night that heat can save, planned once: what is asked does not matter to the door. */
function sampleHeatPlan(): HeatPlanBody {
  const { log, ask } = readCase("20.json");
  const question = heatQuestionFromBody({ heater: { kW: 60, fuel: "propane", vented: true }, targetC: 20 });
  const answer = heatPlan(log, ask[0]?.zone ?? "", ask[0]?.atMs ?? 0, question);
  if (!answer.ok) throw new Error(answer.why);
  return bodyFromHeatPlan(answer.plan);
}

/** A site to which no weather feed was given. */
const NO_FEED: FeedStateBody = {
  recipe: null,
  lastGoodAt: null,
  failures: 0,
  lastError: null,
  nextAt: null,
  hours: 0,
  ageS: null,
  endsAt: null,
  used: false,
  doubt: null,
  spreadScale: null,
  airOffsetK: null,
  dewOffsetK: null,
};

export function fakeDesk(): Desk {
  let heated: HeatPlanBody | null = null;
  const board = structuredClone(SAMPLE_BOARD);
  const sites = [board.site];
  const sheets = structuredClone([...SAMPLE_SHEETS]);
  const journal = structuredClone([...SAMPLE_JOURNAL]);
  const photos = new Map<string, { readonly body: PhotoBody; readonly bytes: Uint8Array }>();

  const noSite = (site: string) => (site === board.site.id ? null : refuse("missing", "/site", `no site "${site}"`));
  const zoneOf = (site: string, zone: string) => {
    const missing = noSite(site);
    if (missing) return missing;
    const found = board.zones.find((of) => of.zone.id === zone);
    return found === undefined ? refuse("missing", "/zone", `no zone "${zone}" on this site`) : good(found);
  };
  const missingZone = (site: string, zone: string) => {
    const found = zoneOf(site, zone);
    return found.ok ? null : found;
  };
  const series = (fromMs: number, toMs: number, points: number): SeriesBody => {
    const steps = Array.from({ length: points }, (_, index) => index);
    const values = steps.map((step) => (step % 7 === 3 ? null : 12 + (step % 5) / 10));
    return {
      from: isoFromMs(fromMs),
      to: isoFromMs(toMs),
      stepS: (toMs - fromMs) / 1000 / points,
      series: { "slip-1/slab": values.map((mean) => ({ min: mean, mean, max: mean })) },
      conditions: {
        slabColdC: values,
        slabHotC: values,
        airC: values,
        rhPct: values,
        dewPointC: values,
        marginK: values,
      },
    };
  };

  return {
    ...fakeNodeDesk(board, noSite),
    ...fakeAlarmDesk(noSite),
    ...fakeSetUpDesk(board, sheets, noSite),
    ...fakeRecordsDesk((site, zone) => (zone === null ? noSite(site) : missingZone(site, zone))),
    ...fakePdfDesk((site, zone) => (zone === null ? noSite(site) : missingZone(site, zone))),
    health: () => ({
      state: "degraded",
      startId: "start",
      startedAt: at(-30),
      at: at(0),
      lastMessageAt: null,
      parts: { store: { state: "up", detail: null }, broker: { state: "degraded", detail: "not reached" } },
      counters: { messages: 412, quarantined: 3 },
    }),
    metrics: () => "# TYPE nightslab_messages_total counter\nnightslab_messages_total 412\n",
    sites: () => sites,
    judgedOnce: () => Promise.resolve(),
    board: (site) => noSite(site) ?? good(board),
    zonesOf: (site) => (noSite(site) === null ? board.zones.length : 0),
    zonePage(site, zone) {
      const found = zoneOf(site, zone);
      if (!found.ok) return found;
      const page: ZonePageBody = { ...found.value, sheets, journal: journal.filter((entry) => entry.zone === zone) };
      return good(page);
    },
    async series(site, zone, fromMs, toMs, points) {
      const found = zoneOf(site, zone);
      return found.ok ? good(series(fromMs, toMs, points)) : found;
    },
    outlook(site, zone) {
      const found = zoneOf(site, zone);
      return found.ok ? good(found.value.outlook) : found;
    },
    heatPlan(site, zone, { from }) {
      const found = zoneOf(site, zone);
      if (!found.ok) return found;
      if (found.value.outlook === null) return refuse("conflict", "/zone", "too little is known to look ahead");
      if (from !== undefined && !(msFromIso(from) > SAMPLE_AT_MS))
        return refuse("invalid", "/from", "lies in the past");
      heated ??= sampleHeatPlan();
      return good(heated);
    },
    takeoff(site, zone) {
      const found = zone === null ? null : zoneOf(site, zone);
      if (found !== null && !found.ok) return found;
      const zones = board.zones.filter((item) => zone === null || item.zone.id === zone);
      return (
        noSite(site) ??
        good(
          sampleTakeoff(
            zones.map((item) => item.zone),
            sheets,
          ),
        )
      );
    },
    nightFile(site, zone) {
      const found = zoneOf(site, zone);
      if (!found.ok) return found;
      return good({
        nightFile: 1,
        id: `${site}-${zone}`,
        site: board.site,
        sheets,
        zones: [found.value.zone],
        nodes: board.nodes.map(({ node }) => node).filter((node) => node.zone === zone),
        journal: [],
        readings: [],
        ask: [{ at: at(0), zone }],
      });
    },
    async importNightFile(site, file) {
      const missing = noSite(site);
      if (missing) return missing;
      const read = readNightFile(file);
      return read.ok
        ? good({ readings: read.value.log.series.length, entries: read.value.log.journal.length })
        : { ...read, refusal: "invalid" };
    },
    journal(site, zone, fromMs) {
      const entries = journal.filter(
        (entry) => (zone === null || entry.zone === zone) && (fromMs === null || msFromIso(entry.at) >= fromMs),
      );
      return noSite(site) ?? good({ entries });
    },
    async addEntry(site, body, by) {
      const missing = noSite(site);
      if (missing) return missing;
      const known = journal.find((entry) => entry.id === body.id);
      if (known !== undefined)
        return known.did === body.did ? good(known) : refuse("conflict", "/id", `"${body.id}" is another entry`);
      const entry = { id: `e-${journal.length + 1}`, ...body, by, heardAt: isoFromMs(SAMPLE_AT_MS) } as EntryBody;
      journal.push(entry);
      return good(entry);
    },
    sheets: () => sheets,
    async putSheet(sheet) {
      const index = sheets.findIndex((of) => of.id === sheet.id);
      if (index < 0) sheets.push(sheet);
      else sheets[index] = sheet;
      return good(sheet);
    },
    sheetVersions: (id) => {
      const sheet = sheets.find((of) => of.id === id);
      return sheet === undefined
        ? refuse("missing", "/sheet", `no sheet "${id}"`)
        : good([{ from: isoFromMs(SAMPLE_AT_MS), sheet }]);
    },
    async confirmSheet(id, _revision, by) {
      const sheet = sheets.find((of) => of.id === id);
      if (sheet === undefined) return refuse("missing", "/sheet", `no sheet "${id}"`);
      return good(Object.assign(sheet, { confirmed: { by, at: isoFromMs(SAMPLE_AT_MS), same: true } }));
    },
    addSheetPhoto: async () => good({ id: "a".repeat(64) }),
    sheetPhoto: (photo) =>
      photo === "a".repeat(64) ? good(new Uint8Array([255, 216])) : refuse("missing", "/photo", "no such picture"),
    async addSite(site) {
      if (sites.some((of) => of.id === site.id)) return refuse("conflict", "/id", `"${site.id}" is there already`);
      sites.push(site);
      return good(site);
    },
    async patchSite(site, change) {
      const found = sites.find((of) => of.id === site);
      return found === undefined ? refuse("missing", "/site", `no site "${site}"`) : good(Object.assign(found, change));
    },
    async putZone(site, zone, mode) {
      const missing = noSite(site);
      if (missing) return missing;
      const known = board.zones.find((of) => of.zone.id === zone.id);
      if (mode === "add" && known) return refuse("conflict", "/id", `"${zone.id}" is there already`);
      const foreign = zone.system.findIndex((id) => !sheets.some((sheet) => sheet.id === id));
      if (foreign >= 0) return refuse("invalid", `/system/${foreign}`, `no sheet "${zone.system[foreign]}"`);
      if (known) known.zone = zone;
      return good(zone);
    },
    async removeZone(site, zone) {
      const found = zoneOf(site, zone);
      if (!found.ok) return found;
      if (journal.some((entry) => entry.zone === zone))
        return refuse("conflict", "/zone", "has a journal, which stays");
      board.zones.splice(board.zones.indexOf(found.value), 1);
      return good(null);
    },
    nodes: (site) => noSite(site) ?? good(board.nodes),
    async putNode(site, node, mode) {
      const missing = noSite(site);
      if (missing) return missing;
      const known = board.nodes.find((of) => of.node.id === node.id);
      if (mode === "add" && known) return refuse("conflict", "/id", `"${node.id}" is there already`);
      if (known) known.node = node;
      return good(node);
    },
    async removeNode(site, node) {
      const missing = noSite(site);
      if (missing) return missing;
      const index = board.nodes.findIndex((of) => of.node.id === node);
      if (index < 0) return refuse("missing", "/node", `no node "${node}" on this site`);
      board.nodes.splice(index, 1);
      return good(null);
    },
    feed: (site) => noSite(site) ?? good(NO_FEED),
    async putFeed(site, recipe) {
      return noSite(site) ?? good({ ...NO_FEED, recipe });
    },
    async removeFeed(site) {
      return noSite(site) ?? good(null);
    },
    async tryFeed(site) {
      return noSite(site) ?? good({ hours: [], skipped: 0, faults: [], doubt: null });
    },
    photos: (site) => noSite(site) ?? good([...photos.values()].map(({ body }) => body)),
    async addPhoto(site, bytes, by) {
      const missing = noSite(site);
      if (missing) return missing;
      if (bytes.length === 0) return refuse("invalid", "/", "is empty");
      const id = createHash("sha256").update(bytes).digest("hex");
      const sizes = { widthPx: 4, heightPx: 3, bytes: bytes.length };
      const body = { id, sentSha256: id, ...sizes, heardAt: isoFromMs(SAMPLE_AT_MS), by };
      photos.set(id, { body, bytes });
      return good(body);
    },
    photo(site, photo) {
      const kept = photos.get(photo);
      return (
        noSite(site) ?? (kept === undefined ? refuse("missing", "/photo", `no picture "${photo}"`) : good(kept.bytes))
      );
    },
    spotCheck(body) {
      const call = board.zones[0]?.call;
      if (call === undefined || !sheets.some((sheet) => sheet.id === body.sheet))
        return refuse("missing", "/sheet", `no sheet "${body.sheet}"`);
      return good(call);
    },
  };
}
