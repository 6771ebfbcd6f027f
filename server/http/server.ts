// The HTTP door: one Fastify server with the guards before and the routes behind it.
import cookie from "@fastify/cookie";
import helmet from "@fastify/helmet";
import rateLimit from "@fastify/rate-limit";
import type { TypeBoxTypeProvider } from "@fastify/type-provider-typebox";
import Fastify, {
  type FastifyBaseLogger,
  type FastifyInstance,
  type FastifyReply,
  type FastifyRequest,
  LogController,
} from "fastify";
import { type BoardText, createBoardText } from "#contract/board-text.ts";
import type { AccessDesk } from "./access-port.ts";
import type { CalendarDesk } from "./calendar-port.ts";
import { registerDashboard } from "./dashboard.ts";
import type { Desk } from "./desk.ts";
import { documentRoutes, registerDocument } from "./document.ts";
import { forwardedGuard, trustOf } from "./forwarded.ts";
import { registerGate } from "./gate.ts";
import { hostGuard, originGuard, READING_METHODS } from "./guard.ts";
import { methodBook, notFound } from "./not-found.ts";
import type { NotifyDesk } from "./notify-port.ts";
import type { OfficeDesk } from "./office-port.ts";
import { problemOf, Refused, sendProblem } from "./refused.ts";
import { registerReplyPage } from "./reply-page.ts";
import type { RouteParts } from "./route-kit.ts";
import { accessRoutes } from "./routes/access.ts";
import { alarmRoutes } from "./routes/alarms.ts";
import { calendarRoutes } from "./routes/calendar.ts";
import { chartRoutes } from "./routes/charts.ts";
import { clientPageRoutes } from "./routes/client-page.ts";
import { heatPlanRoutes } from "./routes/heat-plan.ts";
import { contactRoutes } from "./routes/contacts.ts";
import { feedRoutes } from "./routes/feed.ts";
import { journalRoutes } from "./routes/journal.ts";
import { linkRoutes } from "./routes/links.ts";
import { nightFileRoutes } from "./routes/night-files.ts";
import { knockRoutes } from "./routes/knocks.ts";
import { nodeLifeRoutes } from "./routes/node-life.ts";
import { nodeRoutes } from "./routes/nodes.ts";
import { notifyRoutes } from "./routes/notify.ts";
import { officeRoutes } from "./routes/office.ts";
import { ownContactRoutes } from "./routes/own-contact.ts";
import { recipeRoutes } from "./routes/recipes.ts";
import { peopleRoutes } from "./routes/people.ts";
import { photoRoutes } from "./routes/photos.ts";
import { planRoutes } from "./routes/plan.ts";
import { recordPdfRoutes } from "./routes/record-pdf.ts";
import { recordRoutes } from "./routes/records.ts";
import { serverStateRoutes } from "./routes/server-state.ts";
import { sessionRoutes } from "./routes/sessions.ts";
import { sheetPhotoRoutes } from "./routes/sheet-photos.ts";
import { sheetRoutes } from "./routes/sheets.ts";
import { siteFileRoutes } from "./routes/site-file.ts";
import { siteRoutes } from "./routes/sites.ts";
import { spotCheckRoutes } from "./routes/spot-check.ts";
import { streamRoutes } from "./routes/stream.ts";
import { takeoffRoutes } from "./routes/takeoff.ts";
import { zoneRoutes } from "./routes/zones.ts";
import { demandStatements } from "./stated.ts";
import { smaller } from "./smaller.ts";
import type { StreamRoutes } from "./stream-port.ts";
import { refuseUnreadable } from "./unreadable.ts";
import { compileValidator } from "./validation.ts";

const API = "/api/v1";
const LARGEST_BODY_BYTES = 1024 * 1024;
const REQUEST_WITHIN_MS = 60_000;
/** Far above what a crew types and a script imports, far below what would wear a memory card out. */
const WRITES_PER_MINUTE = 600;
/** Of the way to the first picture, the server may take so much. */
const PAGE_PATIENCE_MS = 400;
const ROUTES = [
  serverStateRoutes,
  siteRoutes,
  zoneRoutes,
  chartRoutes,
  journalRoutes,
  alarmRoutes,
  photoRoutes,
  sheetRoutes,
  sheetPhotoRoutes,
  knockRoutes,
  nodeLifeRoutes,
  recipeRoutes,
  nodeRoutes,
  spotCheckRoutes,
  feedRoutes,
  heatPlanRoutes,
  takeoffRoutes,
  nightFileRoutes,
  planRoutes,
  siteFileRoutes,
  recordRoutes,
  recordPdfRoutes,
  streamRoutes,
  accessRoutes,
  peopleRoutes,
  linkRoutes,
  sessionRoutes,
  clientPageRoutes,
  contactRoutes,
  ownContactRoutes,
  notifyRoutes,
  calendarRoutes,
  officeRoutes,
  documentRoutes,
] as const;

export interface HttpOptions {
  readonly desk: Desk;
  readonly stream: StreamRoutes;
  /** Writes boards; shared with the stream, so that neither writes what the other has written. */
  readonly boardText?: BoardText;
  readonly logger: FastifyBaseLogger | false;
  /** Folder of the built dashboard; null when there is none. */
  readonly dashboardDir: string | null;
  /** For how long a page may wait for its first picture, ms; then it goes out without. */
  readonly pagePatienceMs?: number | undefined;
  /** Names this run of the server; ids of requests begin with it, so that a log of many runs stays clear. */
  readonly startId: string;
  /** Names beside those of this machine under which the server may be asked, without port. */
  readonly allowedHosts?: readonly string[];
  readonly writesPerMinute?: number;
  /** Null or left out: accounts are off, and nobody keeps an audit. */
  readonly access?: AccessDesk | null;
  /** Null or left out: nobody is told of anything. */
  readonly notify?: NotifyDesk | null;
  /** Null or left out: the server keeps no calendars. */
  readonly calendars?: CalendarDesk | null;
  /** Null or left out: the server is no office. */
  readonly office?: OfficeDesk | null;
  /** Certificate and key in PEM; without them the door speaks plain HTTP. */
  readonly tls?: { readonly cert: string; readonly key: string } | null;
  /** Addresses and networks of proxies that may say for whom they ask. */
  readonly trustedProxies?: readonly string[];
}

/** Half a year: long enough for a browser that comes back every winter. Only ever said over HTTPS. */
const HSTS = "max-age=15552000";
/** Scripts, styles and data from here only, nothing inline. */
const HELMET = {
  strictTransportSecurity: false,
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'self'"],
      imgSrc: ["'self'", "data:"],
      objectSrc: ["'none'"],
      baseUri: ["'none'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
    },
  },
};

/** For answers to addresses that cannot be decoded: they pass no hook. */
const UNREAD_GUARDS = {
  "content-security-policy": "default-src 'none';frame-ancestors 'none'",
  "x-content-type-options": "nosniff",
  "referrer-policy": "no-referrer",
};

export async function buildHttp(options: HttpOptions): Promise<FastifyInstance> {
  let requests = 0;
  const fail = (error: unknown, request: FastifyRequest, reply: FastifyReply) => {
    const body = problemOf(error, request.id);
    if (error instanceof Refused && error.waitS !== undefined) reply.header("retry-after", error.waitS);
    if (body.status === 500) request.log.error({ err: error, requestId: request.id }, "request failed");
    return sendProblem(reply, body);
  };
  const access = options.access ?? null;
  const isTrusted = trustOf(options.trustedProxies ?? []);
  const settings = {
    ...(options.logger === false ? { logger: false } : { loggerInstance: options.logger }),
    // A board asks often; what went well is counted in the metrics and fills no log.
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: LARGEST_BODY_BYTES,
    requestTimeout: REQUEST_WITHIN_MS,
    genReqId: () => `${options.startId}-r${++requests}`,
    frameworkErrors: (error: unknown, request: FastifyRequest, reply: FastifyReply) =>
      void fail(error, request, reply.headers(UNREAD_GUARDS)),
    clientErrorHandler: refuseUnreadable,
    trustProxy: isTrusted,
  };
  const { tls = null } = options;
  const app: FastifyInstance =
    tls === null
      ? Fastify(settings)
      : (Fastify({ ...settings, https: { ...tls, minVersion: "TLSv1.2" } }) as unknown as FastifyInstance);
  app.removeContentTypeParser("text/plain");
  app.setValidatorCompiler(compileValidator);
  // Written whole: a serializer that follows the schema would leave out, without a word, what the schema does not name.
  app.setSerializerCompiler(() => (value) => JSON.stringify(value));
  app.setErrorHandler(fail);

  const methodsOf = methodBook(app, API);
  demandStatements(app, API);
  app.addHook("onRequest", hostGuard(options.allowedHosts ?? [], access?.mode === "on"));
  app.addHook("onRequest", forwardedGuard(isTrusted));
  app.addHook("onRequest", originGuard);
  await app.register(helmet, HELMET);
  app.addHook("onRequest", async (request, reply) => {
    if (request.protocol === "https") reply.header("strict-transport-security", HSTS);
  });
  await app.register(cookie);
  const gate = registerGate(app, access, API);
  await app.register(rateLimit, {
    max: options.writesPerMinute ?? WRITES_PER_MINUTE,
    timeWindow: 60_000,
    // A crew behind one address is many people, and one who has signed in is one, wherever the phone is.
    keyGenerator: (request) => request.known?.session ?? request.ip,
    allowList: (request) => READING_METHODS.includes(request.method),
    errorResponseBuilder: (_request, { after }) => new Refused(429, `Try again in ${after}.`),
  });
  await registerDocument(app);
  app.setNotFoundHandler(
    notFound(
      methodsOf,
      await registerDashboard(app, options.dashboardDir, {
        api: API,
        zonesOf: (site) => options.desk.zonesOf(site),
        boardOf: async (site, withPast) => {
          await options.desk.judgedOnce(site);
          const answer = options.desk.board(site, withPast);
          return answer.ok ? answer.value : null;
        },
        patienceMs: options.pagePatienceMs ?? PAGE_PATIENCE_MS,
      }),
    ),
  );

  if (options.notify !== undefined && options.notify !== null) registerReplyPage(app, options.notify, access);
  const parts: RouteParts = {
    desk: options.desk,
    stream: options.stream,
    boardText: options.boardText ?? createBoardText(),
    access,
    gate,
    notify: options.notify ?? null,
    calendars: options.calendars ?? null,
    office: options.office ?? null,
  };
  await app.register(
    async (plain) => {
      const api = plain.withTypeProvider<TypeBoxTypeProvider>();
      api.addHook("onRequest", async (_request, reply) => void reply.header("cache-control", "no-store"));
      api.addHook("onSend", smaller);
      for (const routes of ROUTES) await api.register(routes, parts);
    },
    { prefix: API },
  );
  // Streams never end by themselves, and a server waits for its connections before it stops.
  app.addHook("preClose", async () => {
    options.stream.close();
    options.office?.close();
  });
  return app;
}
