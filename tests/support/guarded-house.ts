// The real door with accounts on over the made-up site: people in a database of their own, the built dashboard, streams that the gate can end.
import { mkdtemp, rm } from "node:fs/promises";
import type { ServerResponse } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { boardWithin } from "#contract/border.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { SiteBody } from "#contract/zone.ts";
import type { Answer } from "../../server/http/answer.ts";
import type { Desk } from "../../server/http/desk.ts";
import { buildHttp } from "../../server/http/server.ts";
import { createPeople, type People } from "../../server/people/people.ts";
import { openStore } from "../../server/store/store.ts";
import { builtDashboard } from "./built-dashboard.ts";
import { fakeDesk } from "./fake-desk.ts";
import { sampleBoard } from "./sample-night.ts";
import { sampleSeries, sampleSheets, sampleZonePage } from "./sample-zone.ts";

export interface GuardedHouse {
  readonly url: string;
  readonly people: People;
  /** Entries in the order in which they were accepted, each with who the door says wrote it. */
  readonly entries: EntryBody[];
  /** Hangs up on everybody and answers nobody until `revive`. */
  kill(): Promise<void>;
  revive(): Promise<void>;
  end(): Promise<void>;
}

const good = <T>(value: T): Answer<T> => ({ ok: true, value });
const gone = (field: string): Answer<never> => ({
  ok: false,
  refusal: "missing",
  faults: [{ field, reason: "is not there" }],
});

/** Two sites, so that borders have something to keep out. */
export const OTHER_SITE = { id: "mill-row", name: "Mill Row 4" } as const;

export async function openGuardedHouse(): Promise<GuardedHouse> {
  const folder = await mkdtemp(join(tmpdir(), "nightslab-house-"));
  const store = openStore(folder);
  const entries: EntryBody[] = [];
  const board = (site: string) => {
    const whole = sampleBoard();
    return site === OTHER_SITE.id ? { ...whole, site: { ...whole.site, ...OTHER_SITE } } : whole;
  };
  const sites: readonly SiteBody[] = [sampleBoard().site, board(OTHER_SITE.id).site];
  const isSite = (site: string) => sites.some(({ id }) => id === site);
  const desk: Desk = {
    ...fakeDesk(),
    sites: () => sites,
    board: (site) => (isSite(site) ? good(board(site)) : gone("/site")),
    nodes: (site) => (isSite(site) ? good(board(site).nodes) : gone("/site")),
    zonePage(site, zone) {
      const page = isSite(site) ? sampleZonePage(zone) : null;
      return page === null ? gone("/zone") : good({ ...page, journal: [...page.journal, ...entries] });
    },
    series: async (_site, zone, fromMs, toMs, points) => good(sampleSeries(zone, fromMs, toMs, points)),
    sheets: sampleSheets,
    addEntry(_site, body, by) {
      const entry = { ...body, by };
      if (!entries.some(({ id }) => id === body.id)) entries.push(entry);
      return Promise.resolve(good({ ...entry, heardAt: body.at }));
    },
  };
  const people = createPeople({
    ...{ store: store.people, mode: "on", siteNames: () => sites.map((site) => site.name ?? site.id) },
    ...{ nowMs: () => Date.now(), steadyMs: () => performance.now() },
    budget: { perS: 100, burst: 100 },
  });
  const streams = new Set<ServerResponse>();
  const stream = {
    open(site: string, _lastId: string | null, raw: ServerResponse, zone: string | null) {
      if (!isSite(site)) return "missing" as const;
      const seen = zone === null ? board(site) : boardWithin(board(site), zone);
      raw.writeHead(200, { "content-type": "text/event-stream", "cache-control": "no-store" });
      raw.write(`event: snapshot\nid: house-1\ndata: ${JSON.stringify(seen)}\n\n`);
      streams.add(raw);
      raw.once("close", () => streams.delete(raw));
      return "opened" as const;
    },
    upTo: () => "house-1",
    close() {
      for (const raw of streams) raw.end();
    },
  };
  const open = async (port: number) => {
    const app = await buildHttp({
      ...{
        desk,
        stream,
        logger: false,
        dashboardDir: await builtDashboard(),
        pagePatienceMs: 60_000,
        startId: "house",
        access: people,
      },
    });
    await app.listen({ port, host: "127.0.0.1" });
    return app;
  };
  let app = await open(0);
  const address = app.server.address();
  const port = typeof address === "object" && address !== null ? address.port : 0;
  const kill = async () => {
    app.server.closeAllConnections();
    await app.close();
  };
  return {
    url: `http://127.0.0.1:${port}`,
    people,
    entries,
    kill,
    async revive() {
      app = await open(port);
    },
    async end() {
      await kill();
      store.close();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
