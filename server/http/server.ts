// The HTTP door: one Fastify server with the guards before and the routes behind it.
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
import { registerDashboard } from "./dashboard.ts";
import type { Desk } from "./desk.ts";
import { documentRoutes, registerDocument } from "./document.ts";
import { hostGuard, originGuard, READING_METHODS } from "./guard.ts";
import { methodBook, notFound } from "./not-found.ts";
import { problemOf, Refused, sendProblem } from "./refused.ts";
import type { RouteParts } from "./route-kit.ts";
import { chartRoutes } from "./routes/charts.ts";
import { heatPlanRoutes } from "./routes/heat-plan.ts";
import { feedRoutes } from "./routes/feed.ts";
import { journalRoutes } from "./routes/journal.ts";
import { nightFileRoutes } from "./routes/night-files.ts";
import { nodeRoutes } from "./routes/nodes.ts";
import { photoRoutes } from "./routes/photos.ts";
import { serverStateRoutes } from "./routes/server-state.ts";
import { sheetRoutes } from "./routes/sheets.ts";
import { siteRoutes } from "./routes/sites.ts";
import { spotCheckRoutes } from "./routes/spot-check.ts";
import { streamRoutes } from "./routes/stream.ts";
import { zoneRoutes } from "./routes/zones.ts";
import { demandStatements } from "./stated.ts";
import type { StreamRoutes } from "./stream-port.ts";
import { refuseUnreadable } from "./unreadable.ts";
import { compileValidator } from "./validation.ts";

const API = "/api/v1";
const LARGEST_BODY_BYTES = 1024 * 1024;
const REQUEST_WITHIN_MS = 60_000;
/** Far above what a crew types and a script imports, far below what would wear a memory card out. */
const WRITES_PER_MINUTE = 600;
const ROUTES = [
  serverStateRoutes,
  siteRoutes,
  zoneRoutes,
  chartRoutes,
  journalRoutes,
  photoRoutes,
  sheetRoutes,
  nodeRoutes,
  spotCheckRoutes,
  feedRoutes,
  heatPlanRoutes,
  nightFileRoutes,
  streamRoutes,
  documentRoutes,
] as const;

export interface HttpOptions {
  readonly desk: Desk;
  readonly stream: StreamRoutes;
  readonly logger: FastifyBaseLogger | false;
  /** Folder of the built dashboard; null when there is none. */
  readonly dashboardDir: string | null;
  /** Names this run of the server; ids of requests begin with it, so that a log of many runs stays clear. */
  readonly startId: string;
  /** Names beside those of this machine under which the server may be asked, without port. */
  readonly allowedHosts?: readonly string[];
  readonly writesPerMinute?: number;
}

/** Scripts, styles and data from here only, nothing inline. Plain HTTP on a loopback address: no upgrade, no HSTS. */
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

export async function buildHttp(options: HttpOptions): Promise<FastifyInstance> {
  let requests = 0;
  const fail = (error: unknown, request: FastifyRequest, reply: FastifyReply) => {
    const body = problemOf(error, request.id);
    if (body.status === 500) request.log.error({ err: error, requestId: request.id }, "request failed");
    return sendProblem(reply, body);
  };
  const app: FastifyInstance = Fastify({
    ...(options.logger === false ? { logger: false } : { loggerInstance: options.logger }),
    // A board asks often; what went well is counted in the metrics and fills no log.
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: LARGEST_BODY_BYTES,
    requestTimeout: REQUEST_WITHIN_MS,
    genReqId: () => `${options.startId}-r${++requests}`,
    frameworkErrors: (error, request, reply) => void fail(error, request, reply),
    clientErrorHandler: refuseUnreadable,
  });
  app.removeContentTypeParser("text/plain");
  app.setValidatorCompiler(compileValidator);
  // Written whole: a serializer that follows the schema would leave out, without a word, what the schema does not name.
  app.setSerializerCompiler(() => (value) => JSON.stringify(value));
  app.setErrorHandler(fail);

  const methodsOf = methodBook(app, API);
  demandStatements(app, API);
  app.addHook("onRequest", hostGuard(options.allowedHosts ?? []));
  app.addHook("onRequest", originGuard);
  await app.register(helmet, HELMET);
  await app.register(rateLimit, {
    max: options.writesPerMinute ?? WRITES_PER_MINUTE,
    timeWindow: 60_000,
    allowList: (request) => READING_METHODS.includes(request.method),
    errorResponseBuilder: (_request, { after }) => new Refused(429, `Try again in ${after}.`),
  });
  await registerDocument(app);
  app.setNotFoundHandler(notFound(methodsOf, await registerDashboard(app, options.dashboardDir)));

  const parts: RouteParts = { desk: options.desk, stream: options.stream };
  await app.register(
    async (plain) => {
      const api = plain.withTypeProvider<TypeBoxTypeProvider>();
      api.addHook("onRequest", async (_request, reply) => void reply.header("cache-control", "no-store"));
      for (const routes of ROUTES) await api.register(routes, parts);
    },
    { prefix: API },
  );
  // Streams never end by themselves, and a server waits for its connections before it stops.
  app.addHook("preClose", async () => options.stream.close());
  return app;
}
