// The two cookies of the door: the session, and a mark by which a device is known that has been here before.
import type {} from "@fastify/cookie";
import type { FastifyReply, FastifyRequest } from "fastify";
import type { Caller, Signed } from "./access-port.ts";

const DAY_S = 86_400;
/** No longer than a session can last; a device is remembered for as long as browsers keep a cookie. */
const SESSION_S = 90 * DAY_S;
const DEVICE_S = 400 * DAY_S;

/** Over HTTPS the prefix binds a cookie to this very host and to HTTPS; over plain HTTP browsers refuse it. */
function nameOf(request: FastifyRequest, what: "session" | "device"): string {
  return `${request.protocol === "https" ? "__Host-" : ""}nightslab-${what}`;
}

function read(request: FastifyRequest, what: "session" | "device"): string | null {
  const value = request.cookies[nameOf(request, what)];
  return value === undefined || value === "" || value.length > 200 ? null : value;
}

export function sessionToken(request: FastifyRequest): string | null {
  return read(request, "session");
}

export function callerOf(request: FastifyRequest): Caller {
  return { address: request.ip, device: read(request, "device"), agent: request.headers["user-agent"] ?? "" };
}

/** No script reads them, no other site's page sends them, and no plain line carries them where HTTPS is spoken. */
function fence(request: FastifyRequest) {
  return { path: "/", httpOnly: true, sameSite: "strict", secure: request.protocol === "https" } as const;
}

export function giveCookies(request: FastifyRequest, reply: FastifyReply, { token, device }: Signed): void {
  reply.setCookie(nameOf(request, "session"), token, { ...fence(request), maxAge: SESSION_S });
  reply.setCookie(nameOf(request, "device"), device, { ...fence(request), maxAge: DEVICE_S });
}

export function takeSessionCookie(request: FastifyRequest, reply: FastifyReply): void {
  reply.clearCookie(nameOf(request, "session"), fence(request));
}
