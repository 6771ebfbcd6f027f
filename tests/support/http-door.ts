// The HTTP door over a desk in memory, asked by injection; every answer is held to its schema.
import type { FastifyInstance, LightMyRequestResponse } from "fastify";
import type Type from "typebox";
import { expect } from "vitest";
import { readerOf, sayFaults } from "#contract/faults.ts";
import { PROBLEM_MEDIA_TYPE, type ProblemBody, ProblemSchema } from "#contract/problem.ts";
import type { Desk } from "../../server/http/desk.ts";
import { buildHttp, type HttpOptions } from "../../server/http/server.ts";
import { fakeDesk } from "./fake-desk.ts";

export type Method = "GET" | "POST" | "PUT" | "PATCH" | "DELETE";
export interface Door {
  readonly app: FastifyInstance;
  readonly desk: Desk;
  ask(method: Method, path: string, body?: unknown, headers?: Record<string, string>): Promise<LightMyRequestResponse>;
  /** Asks, and holds the answer to status and schema. */
  fits<S extends Type.TSchema>(
    schema: S,
    status: number,
    method: Method,
    path: string,
    body?: unknown,
  ): Promise<Type.Static<S>>;
  /** Asks for something that must be refused, and gives the problem back. */
  refused(
    status: number,
    method: Method,
    path: string,
    body?: unknown,
    headers?: Record<string, string>,
  ): Promise<ProblemBody>;
}

export async function openDoor(options: Partial<HttpOptions> = {}): Promise<Door> {
  const desk = options.desk ?? fakeDesk();
  const stream = { open: () => "full" as const, upTo: () => "test-0", close: () => undefined };
  const app = await buildHttp({
    desk,
    stream,
    logger: false,
    dashboardDir: null,
    startId: "start",
    pagePatienceMs: 60_000,
    ...options,
  });
  const ask: Door["ask"] = (method, path, body, headers = {}) =>
    app.inject({
      method,
      url: path.startsWith("/api") ? path : `/api/v1${path}`,
      headers,
      ...(body === undefined ? {} : { payload: body as object }),
    });
  const mustFit = (schema: Type.TSchema, value: unknown) => {
    const checked = readerOf(schema)(value);
    if (!checked.ok) expect.fail(sayFaults(checked.faults));
  };
  return {
    app,
    desk,
    ask,
    async fits(schema, status, method, path, body) {
      const answer = await ask(method, path, body);
      expect(answer.statusCode, answer.body).toBe(status);
      expect(answer.headers["content-type"]).toBe("application/json; charset=utf-8");
      const value: unknown = answer.json();
      mustFit(schema, value);
      return value as Type.Static<typeof schema>;
    },
    async refused(status, method, path, body, headers) {
      const answer = await ask(method, path, body, headers);
      expect(answer.statusCode, answer.body).toBe(status);
      expect(answer.headers["content-type"]).toBe(`${PROBLEM_MEDIA_TYPE}; charset=utf-8`);
      const value = answer.json<ProblemBody>();
      mustFit(ProblemSchema, value);
      expect(value.status).toBe(status);
      return value;
    },
  };
}
