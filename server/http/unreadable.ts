// Answers bytes that are no HTTP request, or one that came too slowly or too large: they reach no route.
import type { Socket } from "node:net";
import { PROBLEM_MEDIA_TYPE, problem } from "#contract/problem.ts";
import { TITLES } from "./refused.ts";

const STATUS_BY_CODE: Readonly<Record<string, 408 | 431>> = { ERR_HTTP_REQUEST_TIMEOUT: 408, HPE_HEADER_OVERFLOW: 431 };

export function refuseUnreadable(error: Error & { readonly code?: string }, socket: Socket): void {
  if (error.code !== "ECONNRESET" && socket.writable) {
    const status = STATUS_BY_CODE[error.code ?? ""] ?? 400;
    const body = JSON.stringify(problem(status, TITLES[status]));
    socket.write(
      `HTTP/1.1 ${status} ${TITLES[status]}\r\nContent-Type: ${PROBLEM_MEDIA_TYPE}\r\nContent-Length: ${Buffer.byteLength(body)}\r\nConnection: close\r\n\r\n${body}`,
    );
  }
  socket.destroy();
}
