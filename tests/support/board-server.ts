// A small server with the made-up site, for browser tests: the built dashboard, the API and the stream, under the real content policy.
import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import { extname, join } from "node:path";
import type { AlarmBody } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import type { FeedStateBody } from "#contract/feed.ts";
import type { HeatQuestionBody } from "#contract/heat-plan.ts";
import type { DeliveryBody, OnCallBody } from "#contract/notify.ts";
import type { EntryBody } from "#contract/journal.ts";
import { readEntryBody } from "#contract/journal.ts";
import { problem, PROBLEM_MEDIA_TYPE } from "#contract/problem.ts";
import { builtDashboard } from "./built-dashboard.ts";
import { type AlarmReply, answeredAlarm } from "./sample-alarms.ts";
import { sampleHeatPlan } from "./sample-heat.ts";
import { sampleBoard } from "./sample-night.ts";
import { sampleSeries, sampleSheets, sampleSpotCheck, sampleZonePage } from "./sample-zone.ts";

export interface BoardServer {
  url: string;
  /** Entries in the order in which they were accepted. */
  entries: EntryBody[];
  /** What pictures were sent, by the name that they got; how often they were. */
  photos: Map<string, number>;
  /** What was asked about heat, in order. */
  questions: HeatQuestionBody[];
  /** Every alarm of the site; answers change them. */
  alarms: AlarmBody[];
  /** What is told of deliveries. */
  deliveries: DeliveryBody[];
  /** Other content for some paths of the page, as another build would have it. */
  files: Map<string, string>;
  /** Paths outside the API to which something was posted. */
  posted: string[];
  /** Tells those who follow the stream, as soon as somebody does: a page follows it after its first picture. */
  tell(event: string, body: unknown): Promise<void>;
  /** Stops answering and hangs up on everybody; `revive` listens again on the same port under a new start id. */
  kill(): Promise<void>;
  revive(): Promise<void>;
}

export interface BoardServerWishes {
  /** The moment of the board, epoch ms; the fixed sample moment when left out. */
  at?: number;
  board?: (board: BoardBody) => BoardBody;
  sites?: number;
}

/** The made-up site has no weather feed of its own. */
const NO_FEED: FeedStateBody = {
  ...{ recipe: null, lastGoodAt: null, failures: 0, lastError: null, nextAt: null, hours: 0, ageS: null, endsAt: null },
  ...{ used: false, doubt: null, spreadScale: null, airOffsetK: null, dewOffsetK: null },
};

const ON_CALL: OnCallBody = {
  order: [
    { contact: "ana", name: "Ana Ruiz" },
    { contact: "lee", name: "Lee Ode" },
  ],
  others: [],
};

const TYPES: Record<string, string> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".webmanifest": "application/manifest+json",
};
const POLICY =
  "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'";

async function bodyOf(request: IncomingMessage): Promise<unknown> {
  let text = "";
  for await (const piece of request) text += String(piece);
  return JSON.parse(text) as unknown;
}

export async function startBoardServer(wishes: BoardServerWishes = {}): Promise<BoardServer> {
  const folder = await builtDashboard();
  const entries: EntryBody[] = [];
  const photos = new Map<string, number>();
  const questions: HeatQuestionBody[] = [];
  const alarms: AlarmBody[] = [];
  const deliveries: DeliveryBody[] = [];
  const files = new Map<string, string>();
  const posted: string[] = [];
  const streams = new Set<ServerResponse>();
  let start = 1;
  let sequence = 0;
  let server: Server;
  const board = () => (wishes.board ?? ((same: BoardBody) => same))(sampleBoard(wishes.at));
  const json = (response: ServerResponse, body: unknown, status = 200) =>
    response
      .writeHead(status, { "content-type": status < 400 ? "application/json" : PROBLEM_MEDIA_TYPE })
      .end(JSON.stringify(body));
  const frame = (event: string, body: unknown) =>
    `event: ${event}\nid: s-${start}-${sequence}\ndata: ${JSON.stringify(body)}\n\n`;

  async function api(request: IncomingMessage, response: ServerResponse, path: string, query: URLSearchParams) {
    const { site } = board();
    if (path === "/sites")
      return json(
        response,
        Array.from({ length: wishes.sites ?? 1 }, (_, index) =>
          index === 0 ? site : { ...site, id: `${site.id}-${index + 1}`, name: `${site.name} ${index + 1}` },
        ),
      );
    if (path === "/access")
      return json(response, {
        accounts: "off",
        firstOwner: false,
        who: null,
        sites: [{ id: site.id, name: site.name }],
      });
    if (path === "/sheets") return json(response, sampleSheets());
    if (path === "/spot-check") {
      const call = sampleSpotCheck((await bodyOf(request)) as Parameters<typeof sampleSpotCheck>[0]);
      return call === null
        ? json(response, problem(422, "Does not fit", [{ field: "/sheet", reason: "is not a known sheet" }]), 422)
        : json(response, call);
    }
    const [, , area, id, leaf] = path.slice(1).split("/");
    if (area === "board") return json(response, board());
    if (area === "feed") return json(response, NO_FEED);
    if (area === "deliveries")
      return json(response, { deliveries: deliveries.filter((one) => one.alarm === query.get("alarm")) });
    if (area === "alarms" && id === undefined)
      return json(response, { alarms: alarms.filter(({ state }) => state === query.get("state")), before: null });
    const at = area === "alarms" ? alarms.findIndex((one) => one.id === id) : -1;
    const asked = alarms[at];
    if (asked !== undefined) {
      const answered = answeredAlarm(asked, (await bodyOf(request)) as AlarmReply, board().at);
      alarms[at] = answered;
      return json(response, answered);
    }
    if (area === "stream") {
      response.writeHead(200, { "content-type": "text/event-stream", "cache-control": "no-store" });
      response.write(frame("snapshot", board()));
      streams.add(response);
      response.on("close", () => streams.delete(response));
      return;
    }
    if (area === "on-call") return json(response, ON_CALL);
    if (area === "photos" && request.method === "POST") {
      const hash = createHash("sha256");
      for await (const piece of request) hash.update(piece as Buffer);
      const name = hash.digest("hex");
      photos.set(name, (photos.get(name) ?? 0) + 1);
      const at = board().at;
      return json(
        response,
        { id: name, sentSha256: name, widthPx: 8, heightPx: 8, bytes: 1, heardAt: at, by: null },
        201,
      );
    }
    if (leaf === "coats" || leaf === "hand-over") return json(response, problem(404, "Not found"), 404);
    if (area === "journal" && request.method === "GET") return json(response, { entries });
    if (area === "journal") {
      const read = readEntryBody(await bodyOf(request));
      if (!read.ok) return json(response, problem(422, "Does not fit", read.faults), 422);
      if (!entries.some((entry) => entry.id === read.value.id)) entries.push(read.value);
      return json(response, { ...read.value, heardAt: read.value.at });
    }
    if (area === "zones" && id !== undefined && leaf === "series") {
      return json(
        response,
        sampleSeries(
          id,
          Date.parse(query.get("from") ?? ""),
          Date.parse(query.get("to") ?? ""),
          Number(query.get("points")),
          wishes.at,
        ),
      );
    }
    if (area === "zones" && id !== undefined && leaf === "heat-plan") {
      questions.push((await bodyOf(request)) as HeatQuestionBody);
      const plan = sampleHeatPlan(id, questions.at(-1) as HeatQuestionBody, wishes.at);
      return plan === null
        ? json(response, problem(409, "No outlook", [{ field: "/zone", reason: "has no outlook yet" }]), 409)
        : json(response, plan);
    }
    const zone = area === "zones" && id !== undefined ? sampleZonePage(id, wishes.at) : null;
    if (zone !== null) return json(response, { ...zone, journal: [...zone.journal, ...entries] });
    return json(response, problem(404, "Not found"), 404);
  }

  async function handle(request: IncomingMessage, response: ServerResponse) {
    const { pathname, searchParams } = new URL(request.url ?? "/", "http://localhost");
    response.setHeader("content-security-policy", POLICY);
    if (pathname.startsWith("/api/v1")) return void (await api(request, response, pathname.slice(7), searchParams));
    if (request.method === "POST") {
      posted.push(pathname);
      return void response.writeHead(200).end();
    }
    const file = join(folder, pathname === "/" ? "index.html" : pathname);
    const content = files.get(pathname) ?? (await readFile(file).catch(() => null));
    if (content === null) return void response.writeHead(404).end();
    response.writeHead(200, { "content-type": TYPES[extname(file)] ?? "application/octet-stream" }).end(content);
  }

  const listen = (port: number) =>
    new Promise<number>((resolve, reject) => {
      server = createServer((request, response) => void handle(request, response).catch(() => response.destroy()));
      server.once("error", reject);
      server.listen(port, "127.0.0.1", () => {
        const address = server.address();
        resolve(typeof address === "object" && address !== null ? address.port : 0);
      });
    });
  const port = await listen(0);
  const beat = setInterval(() => emit("beat", { at: board().at }), 15_000);
  function emit(event: string, body: unknown) {
    sequence += 1;
    for (const stream of streams) stream.write(frame(event, body));
  }

  return {
    url: `http://127.0.0.1:${port}`,
    entries,
    photos,
    questions,
    alarms,
    deliveries,
    files,
    posted,
    async tell(event, body) {
      while (streams.size === 0) await new Promise((resolve) => setTimeout(resolve, 20));
      emit(event, body);
    },
    async kill() {
      clearInterval(beat);
      server.closeAllConnections();
      await new Promise<void>((resolve) => server.close(() => resolve()));
    },
    async revive() {
      start += 1;
      sequence = 0;
      await listen(port);
    },
  };
}
