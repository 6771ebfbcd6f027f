// Answers made small on their way: a board of five zones is sixty kilobytes of text, and a phone's line is thin.
import { promisify } from "node:util";
import { gzip } from "node:zlib";
import type { FastifyReply, FastifyRequest } from "fastify";

/** Below this the head of the answer weighs more than what is saved. */
const WORTH_BYTES = 1400;
/** From here on time counts more than the last tenth. */
const LARGE_BYTES = 256 * 1024;
const TEXT = /^(?:application\/(?:problem\+)?json|text\/(?:csv|html))/;
const HERE = /^(?:::ffff:)?127\.|^::1$/;
const pack = promisify(gzip);

/** By the header, which may also refuse with `q=0`. */
function reads(header: string, coding: string): boolean {
  return header.split(",").some((one) => {
    const [name = "", ...wishes] = one.toLowerCase().split(";");
    return name.trim() === coding && !wishes.some((wish) => /^\s*q=0(?:\.0*)?\s*$/.test(wish));
  });
}

/** Between two programs of one machine there is no line to spare: what is large there goes as it is. */
function stays({ headers, socket }: FastifyRequest, bytes: number): boolean {
  const passedOn = headers["x-forwarded-for"] !== undefined || headers["forwarded"] !== undefined;
  return bytes >= LARGE_BYTES && !passedOn && HERE.test(socket.remoteAddress ?? "");
}

export async function smaller(request: FastifyRequest, reply: FastifyReply, payload: unknown): Promise<unknown> {
  if (typeof payload !== "string" && !Buffer.isBuffer(payload)) return payload;
  if (payload.length < WORTH_BYTES || request.method !== "GET") return payload;
  if (!TEXT.test(String(reply.getHeader("content-type") ?? "")) || reply.hasHeader("content-encoding")) return payload;
  reply.header("vary", [reply.getHeader("vary"), "accept-encoding"].filter((one) => one !== undefined).join(", "));
  if (!reads(String(request.headers["accept-encoding"] ?? ""), "gzip") || stays(request, payload.length))
    return payload;
  const packed = await pack(payload, { level: payload.length < LARGE_BYTES ? 5 : 1 });
  reply.header("content-encoding", "gzip").removeHeader("content-length");
  return packed;
}
