// Shakes every operation of the document with random requests: never a failure inside, and every answer as documented.
import { Compile } from "typebox/compile";
import type Type from "typebox";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type ApiDocument, followed, operationsOf } from "../support/api-document.ts";
import { pick, seeded, valueFor } from "../support/from-schema.ts";
import { type Door, type Method, openDoor } from "../support/http-door.ts";

const WORDS = [
  "boathouse",
  "slip",
  "office",
  "slip-1",
  "base-epoxy",
  "top-polyaspartic",
  "attic",
  "e-1",
  "slip-1/slab",
  "slip-1/slab.2",
  "America/Chicago",
  "2026-02-03T10:00:00Z",
  "2026-02-03T20:30:00.5+01:00",
  "2026-02-04T04:00:00-06:00",
];
const ROUNDS = 60;
let door: Door;
let document: ApiDocument;
beforeAll(async () => {
  door = await openDoor({ writesPerMinute: 1e9, stream: { open: () => "missing", close: () => undefined } });
  const written: ApiDocument = (await door.ask("GET", "/openapi.json")).json();
  document = followed(written, written);
});
afterAll(() => door.app.close());

/** Accounts are off at this door, so every route about people says so and nothing else. */
const isOfPeople = (name: string) =>
  /v1\/(sign-in|sign-out|first-owner|reset|password|people|invitations|links|sessions|audit)\b/.test(name);

it("never fails inside, and answers only what the document says", async () => {
  const random = seeded(20260203);
  const validators = new Map<object, ReturnType<typeof Compile>>();
  const fits = (schema: object, value: unknown) => {
    const validator = validators.get(schema) ?? Compile(schema as Type.TSchema);
    validators.set(schema, validator);
    return validator.Check(value);
  };
  const seen = new Map<string, Set<number>>();
  for (const { method, path, operation } of operationsOf(document)) {
    for (let round = 0; round < (isOfPeople(`${method} ${path}`) ? 6 : ROUNDS); round += 1) {
      const junk = pick(random, [0, 0, 0.03, 0.3]);
      const text = (schema: object) =>
        encodeURIComponent(String(valueFor(schema as Record<string, unknown>, random, WORDS, junk)).slice(0, 90));
      const parameters = operation.parameters ?? [];
      // An empty part of a path would be another address.
      const known = (name: string) =>
        random() < 0.8
          ? {
              site: "boathouse",
              zone: pick(random, ["slip", "office", "tools"]),
              node: "slip-1",
              coat: "0",
              day: "2026-02-03",
            }[name]
          : undefined;
      const url = path.replace(
        /\{(\w+)\}/g,
        (_, name: string) => known(name) ?? (text(parameters.find((of) => of.name === name)?.schema ?? {}) || "-"),
      );
      const query = parameters
        .filter((of) => of.in === "query" && (of.required === true || random() < 0.5))
        .map((of) => `${of.name}=${text(of.schema)}`);
      const schema = operation.requestBody?.content["application/json"]?.schema;
      const body = schema === undefined ? undefined : JSON.stringify(valueFor(schema, random, WORDS, junk));
      const asked = `${method} ${url}?${query.join("&")} ${body ?? ""}`.slice(0, 600);
      const answer = await door.ask(
        method as Method,
        `${url}?${query.join("&")}`,
        body,
        body === undefined ? {} : { "content-type": "application/json" },
      );
      expect(answer.statusCode, asked).toBeLessThan(500);
      const said = operation.responses[answer.statusCode];
      expect(said, `${answer.statusCode} is not documented: ${asked}`).toBeDefined();
      const [mediaType, media] = Object.entries(said?.content ?? {})[0] ?? [];
      if (mediaType === undefined || media === undefined) expect(answer.body, asked).toBe("");
      else {
        expect(answer.headers["content-type"], asked).toContain(mediaType);
        if (mediaType.endsWith("json"))
          expect(fits(media.schema, answer.json()), `${asked}: ${answer.body.slice(0, 400)}`).toBe(true);
      }
      const name = `${method} ${path}`;
      seen.set(name, (seen.get(name) ?? new Set()).add(answer.statusCode));
    }
  }
  for (const [name, statuses] of seen)
    if (isOfPeople(name))
      expect(
        [...statuses].some((status) => status < 300),
        name,
      ).toBe(false);
  // The shaking reached behind the schemas: every operation also gave a good answer, but for the stream, which opens no
  // site here, and night files and recipes of feeds, whose parts must agree with one another as chance never makes them.
  const never = [...seen]
    .filter(([name, statuses]) => !isOfPeople(name) && ![...statuses].some((status) => status < 300))
    .map(([name]) => name);
  expect(never.sort()).toEqual([
    "GET /api/v1/sites/{site}/photos/{photo}",
    "GET /api/v1/sites/{site}/photos/{photo}/small",
    "GET /api/v1/sites/{site}/stream",
    "POST /api/v1/sites/{site}/feed/try",
    "POST /api/v1/sites/{site}/night-files",
    "POST /api/v1/sites/{site}/photos",
    "POST /api/v1/sites/{site}/recipes/try",
    "PUT /api/v1/sites/{site}/feed",
  ]);
}, 120_000);
