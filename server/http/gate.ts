// The gate: finds out who asks, holds the word of the route against it, and writes down who changed what.
import type { ServerResponse } from "node:http";
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { CHANGE_HEADER, type Who } from "#contract/access.ts";
import type { AccessDesk, Known } from "./access-port.ts";
import { admit, type Verdict } from "./admit.ts";
import { sessionToken } from "./cookies.ts";
import { READING_METHODS } from "./guard.ts";
import { Refused } from "./refused.ts";

declare module "fastify" {
  interface FastifyRequest {
    /** Null when nobody has signed in. */
    who: Who | null;
    known: Known | null;
    /** What the audit says of a change, without secrets; the parts of its address unless a route says more. */
    about: string | null;
  }
}

/** With accounts off everybody at this machine is an owner. */
const OPEN: Who = { kind: "open", name: null, role: "owner", sites: null, zone: null };
/** How often open streams are held against their sessions, which can also end by time or by a command on the box. */
const LOOK_EVERY_MS = 2000;

function refusalOf(
  verdict: Exclude<Verdict, "in">,
  who: Who | null,
  params: Readonly<Record<string, string>>,
): Refused {
  switch (verdict) {
    case "sign-in":
      return new Refused(401, "Sign in first.");
    case "not-allowed":
      return new Refused(403, `This is not for ${who === null ? "strangers" : `the role ${who.role} or its sites`}.`, [
        { field: "role", reason: "may not" },
      ]);
    case "missing-site":
      return new Refused(404, "", [{ field: "/site", reason: `no site "${params.site}"` }]);
    case "missing-zone":
      return new Refused(404, "", [{ field: "/zone", reason: `no zone "${params.zone}" on this site` }]);
  }
}

interface Followed {
  readonly token: string;
  readonly address: string;
  /** As it was when the stream was opened: with other rights it must be opened anew. */
  readonly who: string;
  readonly raw: ServerResponse;
}

export interface Gate {
  /** Ends the stream when its session ends or its rights change. */
  follow(request: FastifyRequest, raw: ServerResponse): void;
}

export function registerGate(app: FastifyInstance, access: AccessDesk | null, prefix: string): Gate {
  const accounts = access !== null && access.mode === "on" ? access : null;
  const followed = new Set<Followed>();
  app.decorateRequest("who", null);
  app.decorateRequest("known", null);
  app.decorateRequest("about", null);

  app.addHook("onRequest", async (request) => {
    const { may, border } = request.routeOptions.config;
    // Pages of the dashboard and addresses without a route hold nothing of anybody.
    if (may === undefined) return;
    const token = accounts === null ? null : sessionToken(request);
    request.known = accounts === null || token === null ? null : accounts.whoIs(token, request.ip);
    request.who = accounts === null ? OPEN : (request.known?.who ?? null);
    if (
      accounts !== null &&
      !READING_METHODS.includes(request.method) &&
      request.headers[CHANGE_HEADER] === undefined
    ) {
      throw new Refused(403, "Changes are taken from this server's own pages.", [
        { field: CHANGE_HEADER, reason: "is missing from the headers" },
      ]);
    }
    const params = request.params as Readonly<Record<string, string>>;
    const verdict = admit(request.who, { may, border, site: params.site, zone: params.zone });
    if (verdict === "in") return;
    if (verdict !== "sign-in")
      request.log.warn({ requestId: request.id, who: request.who?.name, verdict }, "not let in");
    throw refusalOf(verdict, request.who, params);
  });

  const look = () => {
    for (const stream of followed) {
      const known = accounts?.whoIs(stream.token, stream.address) ?? null;
      if (JSON.stringify(known?.who) !== stream.who) stream.raw.end();
    }
  };
  app.addHook("onResponse", async (request: FastifyRequest, reply: FastifyReply) => {
    const { may, quiet } = request.routeOptions.config;
    if (may === undefined || READING_METHODS.includes(request.method) || reply.statusCode >= 400) return;
    if (accounts !== null) look();
    if (quiet === true || access === null) return;
    const params = request.params as Readonly<Record<string, string>>;
    access.note({
      who: request.who?.name ?? null,
      role: request.who?.role ?? null,
      did: `${request.method} ${(request.routeOptions.url ?? "").replace(prefix, "")}`,
      site: params.site ?? null,
      about: (request.about ?? Object.values(params).join(" / ")).slice(0, 500),
      address: request.ip,
    });
  });

  const timer = setInterval(look, LOOK_EVERY_MS);
  timer.unref();
  app.addHook("onClose", async () => clearInterval(timer));
  return {
    follow(request, raw) {
      const token = accounts === null ? null : sessionToken(request);
      if (token === null) return;
      const stream = { token, address: request.ip, who: JSON.stringify(request.who), raw };
      followed.add(stream);
      raw.once("close", () => followed.delete(stream));
    },
  };
}
