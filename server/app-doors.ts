// The doors of the server: the broker of the settings, and an HTTP door that closes in time.
import { readFileSync } from "node:fs";
import type { Socket } from "node:net";
import type { FastifyBaseLogger, FastifyInstance } from "fastify";
import type { HttpOptions } from "./http/server.ts";
import { type BrokerOptions, startBroker } from "./ingest/broker.ts";
import type { BrokerLink } from "./ingest/link.ts";
import type { Take } from "./ingest/message.ts";
import type { SourceOptions } from "./ingest/source.ts";
import { USUAL_LIMITS } from "./ingest/throttle.ts";
import type { Settings } from "./settings.ts";
import { publicHost } from "./settings-notify.ts";
import { isLoopback, listed } from "./ways-in.ts";

/** How long requests under way are waited for when the server stops. */
const PATIENCE_MS = 5000;

export async function openLink(
  settings: Settings,
  take: Take,
  /** Sites that are set up here. */
  served: readonly string[],
  gate: Pick<BrokerOptions, "book" | "barred">,
  log: FastifyBaseLogger,
): Promise<BrokerLink> {
  if (settings.mqttUrl === undefined) {
    const open = isLoopback(settings.mqttHost) && settings.joinSecret === undefined;
    const { mqttTlsCert: certFile, mqttTlsKey: keyFile } = settings;
    if (!isLoopback(settings.mqttHost) && certFile === undefined)
      log.warn({}, "nodes sign in over the network without TLS: whoever listens there learns their passwords");
    return startBroker({
      ...gate,
      host: settings.mqttHost,
      port: settings.mqttPort,
      joinSecret: settings.joinSecret ?? null,
      open,
      certificate: certFile === undefined || keyFile === undefined ? null : { certFile, keyFile },
      // On this machine alone nobody has to be slowed.
      limits: open ? null : USUAL_LIMITS,
      take,
      log,
    });
  }
  // Loaded where there is a broker elsewhere: most servers are their own.
  const { startSource } = await import("./ingest/source.ts");
  return startSource({
    ...elsewhere(settings, settings.mqttUrl),
    sites: settings.site !== undefined ? [settings.site] : settings.mqttHear === "own" ? served : null,
    filters: [],
    take,
    log,
  });
}

/** The broker of the settings, and who this server is there. */
export function elsewhere(
  settings: Settings,
  url: string,
): Pick<SourceOptions, "url" | "username" | "password" | "ca" | "version" | "connections" | "clientId"> {
  return {
    url,
    username: settings.mqttUsername ?? null,
    password: settings.mqttPassword ?? null,
    ca: settings.mqttCa === undefined ? null : fileOf(settings.mqttCa, "mqttCa"),
    version: settings.mqttVersion === 5 ? 5 : 4,
    connections: settings.mqttConnections,
    clientId: settings.mqttClientId,
  };
}

function fileOf(path: string, setting: keyof Settings): string {
  try {
    return readFileSync(path, "utf8");
  } catch (error) {
    throw new Error(`${path} cannot be read (setting ${setting}): ${(error as Error).message}`);
  }
}

/** What the settings say of the HTTP door beside its address. */
export function httpParts(settings: Settings): Pick<HttpOptions, "allowedHosts" | "tls" | "trustedProxies"> {
  const { httpTlsCert, httpTlsKey, httpNames, trustedProxies } = settings;
  const ownName = publicHost(settings.publicUrl);
  return {
    allowedHosts: [...listed(httpNames), ...(ownName === null ? [] : [ownName])],
    trustedProxies: listed(trustedProxies),
    tls:
      httpTlsCert === undefined || httpTlsKey === undefined
        ? null
        : { cert: fileOf(httpTlsCert, "httpTlsCert"), key: fileOf(httpTlsKey, "httpTlsKey") },
  };
}

export interface HttpDoor {
  readonly url: string;
  /** Lets requests under way end, and cuts everything else. */
  close(): Promise<void>;
}

export async function openHttp(http: FastifyInstance, settings: Settings): Promise<HttpDoor> {
  let requests = 0;
  // With HTTPS a line is none of the server's own before its handshake is over.
  const lines = new Set<Socket>();
  http.server.on("connection", (line: Socket) => {
    lines.add(line);
    line.once("close", () => lines.delete(line));
  });
  http.server.on("request", (_request, response) => {
    requests += 1;
    response.once("close", () => (requests -= 1));
  });
  const url = await http
    .listen({ host: settings.httpHost, port: settings.httpPort })
    .catch((error: NodeJS.ErrnoException) => {
      if (error.code !== "EADDRINUSE") throw error;
      throw new Error(`port ${settings.httpPort} at ${settings.httpHost} is in use (setting httpPort)`);
    });
  return {
    url,
    async close() {
      const untilMs = performance.now() + PATIENCE_MS;
      // Browsers keep lines open that carry nothing, and some that never did: a server would wait for them by the minute.
      const sweep = setInterval(() => {
        if (requests > 0 && performance.now() <= untilMs) return;
        http.server.closeAllConnections();
        for (const line of lines) line.destroy();
      }, 20);
      await http.close();
      clearInterval(sweep);
    },
  };
}
