// Guards of the door, whoever asks: only under its own names, and changes only from its own pages.
import type { FastifyRequest } from "fastify";
import { Refused } from "./refused.ts";

const LOOPBACK_NAMES = ["127.0.0.1", "localhost", "[::1]"] as const;
export const READING_METHODS: readonly string[] = ["GET", "HEAD", "OPTIONS"];

function addressOf(local: string): string {
  const bare = local.replace(/^::ffff:(?=\d+\.)/, "");
  return bare.includes(":") ? `[${bare}]` : bare;
}

function urlOf(scheme: string, host: string): URL | null {
  const text = `${scheme}//${host}`;
  return URL.canParse(text) ? new URL(text) : null;
}

/**
 * A page elsewhere can let its own name point here and then read everything (DNS rebinding); the Host header still
 * carries that name. `allowedHosts` are further names without port. `ownAddress`: also by the address that was called:
 * a name cannot be rebound to that without showing itself.
 */
export function hostGuard(allowedHosts: readonly string[], ownAddress = false) {
  const names = new Set<string>([...LOOPBACK_NAMES, ...allowedHosts.map((name) => name.toLowerCase())]);
  return async (request: FastifyRequest): Promise<void> => {
    const host = request.headers.host ?? "";
    const url = /^[A-Za-z0-9.:[\]-]+$/.test(host) ? urlOf("http:", host) : null;
    const called = ownAddress ? urlOf("http:", addressOf(request.raw.socket.localAddress ?? "")) : null;
    if (url === null || !(names.has(url.hostname) || url.hostname === called?.hostname)) {
      throw new Refused(421, "This server answers under 127.0.0.1, localhost and the names in its settings.", [
        { field: "host", reason: "is not a name of this server" },
      ]);
    }
  };
}

/** A browser says from which page a change comes; programs without pages say nothing and pass. */
export async function originGuard(request: FastifyRequest): Promise<void> {
  if (READING_METHODS.includes(request.method)) return;
  const { origin, host } = request.headers;
  const foreign = new Refused(403, "Changes are taken from this server's own pages.", [
    { field: "origin", reason: "is not this server" },
  ]);
  if (origin === undefined) {
    if (request.headers["sec-fetch-site"] === "cross-site") throw foreign;
    return;
  }
  const from = URL.canParse(origin) ? new URL(origin) : null;
  if (from === null || !/^https?:$/.test(from.protocol)) throw foreign;
  if (urlOf(from.protocol, host ?? "")?.host !== from.host) throw foreign;
}
