// The office in the running server: it hears the servers of many sites, and sets nothing up itself.
import type { FastifyBaseLogger } from "fastify";
import type { OfficeSiteBody } from "#contract/office.ts";
import type { PartHealth } from "#contract/health.ts";
import { OFFICE_FILTERS } from "#contract/topics.ts";
import { elsewhere } from "./app-doors.ts";
import type { Desk } from "./http/desk.ts";
import type { OfficeDesk } from "./http/office-port.ts";
import type { BrokerLink } from "./ingest/link.ts";
import { createOffice } from "./office/office.ts";
import type { OfficeStore } from "./office/ports.ts";
import type { Settings } from "./settings.ts";
import { createOfficeStream } from "./stream/office-stream.ts";

export interface OfficeAppParts {
  readonly settings: Settings;
  readonly store: OfficeStore;
  readonly startId: string;
  readonly nowMs: () => number;
  readonly link: () => BrokerLink | null;
  readonly count: (name: string) => void;
  readonly log: FastifyBaseLogger;
}

export interface OfficeApp {
  readonly http: OfficeDesk;
  /** What an office does not do. */
  readonly refusals: Pick<Desk, "addSite" | "takeSiteFile" | "importNightFile">;
  siteNames(): readonly string[];
  health(): PartHealth;
  open(): Promise<BrokerLink>;
  close(): void;
}

const refused = async () =>
  ({
    ok: false,
    refusal: "conflict",
    faults: [
      { field: "/site", reason: "this server is an office (setting office): set the site up at its own server" },
    ],
  }) as const;

/** Null where the settings make no office of this server. */
export function createOfficeApp({
  settings,
  store,
  startId,
  nowMs,
  link,
  count,
  log,
}: OfficeAppParts): OfficeApp | null {
  if (settings.office !== "on" || settings.mqttUrl === undefined) return null;
  const url = settings.mqttUrl;
  const deaf = () => {
    const health = link()?.health() ?? null;
    return health === null ? "not started" : health.state === "down" ? (health.detail ?? "the broker is away") : null;
  };
  const told = { changed: (_site: OfficeSiteBody) => {}, gone: (_site: string) => {} };
  const office = createOffice({
    ...{ store, nowMs, deaf, count, log },
    changed: (site) => told.changed(site),
    gone: (site) => told.gone(site),
  });
  const stream = createOfficeStream({ startId, nowMs, deaf, body: () => office.body() });
  Object.assign(told, { changed: stream.changed, gone: stream.gone });
  return {
    http: { body: () => office.body(), open: stream.open, close: () => stream.close() },
    refusals: { addSite: refused, takeSiteFile: refused, importNightFile: refused },
    siteNames: () => office.siteNames(),
    health() {
      const failure = office.storeFailure();
      return failure === null ? { state: "up", detail: null } : { state: "degraded", detail: failure };
    },
    async open() {
      const { startSource } = await import("./ingest/source.ts");
      const source = await startSource({
        ...elsewhere(settings, url),
        connections: 1,
        sites: [],
        filters: OFFICE_FILTERS,
        take: async (message) => office.take(message),
        log,
      });
      // It only looks on: nothing of it goes out.
      return { ...source, publish: () => undefined, hear: () => undefined, serve: () => undefined };
    },
    close() {
      office.close();
      stream.close();
    },
  };
}
