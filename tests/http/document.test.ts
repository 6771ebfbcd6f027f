// The OpenAPI document: every route in it, every reference resolves, and its schemas say what the contract says.
import type Type from "typebox";
import { Compile } from "typebox/compile";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { CallSchema } from "#contract/call.ts";
import { STREAM_EVENTS } from "#contract/stream.ts";
import { type ApiDocument, followed, operationsOf, referencesIn, target } from "../support/api-document.ts";
import { type Door, type Method, openDoor } from "../support/http-door.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { SAMPLE_JOURNAL, SAMPLE_SHEETS } from "../support/sample-site.ts";

const ROUTES = [
  "GET /health",
  "GET /metrics",
  "GET /openapi.json",
  "GET /sites",
  "POST /sites",
  "PATCH /sites/{site}",
  "GET /sites/{site}/board",
  "GET /sites/{site}/stream",
  "GET /sites/{site}/zones/{zone}",
  "POST /sites/{site}/zones",
  "POST /sites/{site}/zones/{zone}/heat-plan",
  "PATCH /sites/{site}/zones/{zone}",
  "DELETE /sites/{site}/zones/{zone}",
  "GET /sites/{site}/zones/{zone}/series",
  "GET /sites/{site}/zones/{zone}/outlook",
  "GET /sites/{site}/takeoff",
  "GET /sites/{site}/zones/{zone}/takeoff",
  "GET /sites/{site}/zones/{zone}/night-file",
  "POST /sites/{site}/night-files",
  "POST /night-files/judge",
  "GET /invented-night",
  "GET /sites/{site}/plan",
  "PUT /sites/{site}/plan",
  "GET /sites/{site}/site-file",
  "POST /site-files",
  "GET /sites/{site}/coats",
  "GET /sites/{site}/zones/{zone}/coats",
  "GET /sites/{site}/zones/{zone}/coats/{coat}/record",
  "GET /sites/{site}/zones/{zone}/coats/{coat}/record.csv",
  "GET /sites/{site}/zones/{zone}/hand-over",
  "GET /sites/{site}/days/{day}/summary",
  "GET /sites/{site}/export.zip",
  "GET /sites/{site}/journal",
  "POST /sites/{site}/journal",
  "GET /sites/{site}/alarms",
  "POST /sites/{site}/alarms/{alarm}/acknowledge",
  "POST /sites/{site}/alarms/{alarm}/snooze",
  "GET /sites/{site}/photos",
  "POST /sites/{site}/photos",
  "GET /sites/{site}/photos/{photo}",
  "GET /sites/{site}/photos/{photo}/small",
  "GET /sites/{site}/zones/{zone}/coats/{coat}/record.pdf",
  "GET /sites/{site}/days/{day}/summary.pdf",
  "GET /sites/{site}/zones/{zone}/hand-over.pdf",
  "GET /sheets",
  "PUT /sheets",
  "GET /sheets/{sheet}/versions",
  "POST /sheets/{sheet}/confirm",
  "POST /sheet-photos",
  "GET /sheet-photos/{photo}",
  "GET /sheet-photos/{photo}/small",
  "GET /sites/{site}/feed",
  "PUT /sites/{site}/feed",
  "DELETE /sites/{site}/feed",
  "POST /sites/{site}/feed/try",
  "GET /sites/{site}/nodes",
  "POST /sites/{site}/nodes",
  "PATCH /sites/{site}/nodes/{node}",
  "DELETE /sites/{site}/nodes/{node}",
  "GET /sites/{site}/sensors",
  "GET /sites/{site}/join-secret",
  "POST /sites/{site}/join-secret",
  "GET /sites/{site}/knocks",
  "POST /sites/{site}/knocks/{node}/admit",
  "POST /sites/{site}/knocks/{node}/refuse",
  "POST /sites/{site}/nodes/{node}/credentials",
  "DELETE /sites/{site}/nodes/{node}/credentials",
  "GET /sites/{site}/nodes/{node}/label",
  "POST /sites/{site}/nodes/{node}/move",
  "POST /sites/{site}/nodes/{node}/replace",
  "POST /sites/{site}/nodes/{node}/retire",
  "GET /sites/{site}/recipes",
  "PUT /sites/{site}/recipes",
  "POST /sites/{site}/recipes/try",
  "POST /spot-check",
  "GET /access",
  "POST /sign-in",
  "POST /sign-out",
  "POST /first-owner",
  "POST /reset",
  "POST /password",
  "GET /people",
  "PATCH /people/{person}",
  "DELETE /people/{person}",
  "POST /people/{person}/reset",
  "GET /invitations",
  "POST /invitations",
  "DELETE /invitations/{invitation}",
  "POST /invitations/offer",
  "POST /invitations/accept",
  "GET /links",
  "POST /links",
  "DELETE /links/{link}",
  "POST /links/open",
  "GET /sessions",
  "DELETE /sessions/{session}",
  "GET /audit",
  "GET /sites/{site}/client-page",
  "GET /contacts",
  "POST /contacts",
  "PATCH /contacts/{contact}",
  "DELETE /contacts/{contact}",
  "POST /contacts/{contact}/push",
  "DELETE /contacts/{contact}/push/{push}",
  "POST /contacts/{contact}/test",
  "GET /own-contact",
  "PUT /own-contact",
  "POST /own-contact/push",
  "DELETE /own-contact/push/{push}",
  "POST /own-contact/test",
  "GET /push-key",
  "GET /sites/{site}/calendars",
  "POST /sites/{site}/calendars",
  "DELETE /sites/{site}/calendars/{calendar}",
  "GET /calendar/{token}.ics",
  "GET /office",
  "GET /office/stream",
  "GET /sites/{site}/on-call",
  "PUT /sites/{site}/on-call",
  "GET /sites/{site}/deliveries",
  "GET /sites/{site}/sirens",
  "POST /sites/{site}/sirens",
  "DELETE /sites/{site}/sirens/{siren}",
];
let door: Door;
let document: ApiDocument;
beforeAll(async () => {
  door = await openDoor();
  document = (await door.ask("GET", "/openapi.json")).json();
});
afterAll(() => door.app.close());

it("is OpenAPI 3.1 and lists exactly the routes that exist", () => {
  expect(document.openapi).toMatch(/^3\.1\.\d+$/);
  expect([document.info.title, typeof document.info.version]).toEqual(["Nightslab", "string"]);
  const listed = operationsOf(document).map(({ method, path }) => `${method} ${path.replace("/api/v1", "")}`);
  expect(listed.sort()).toEqual([...ROUTES].sort());
  for (const { method, path } of operationsOf(document)) {
    expect(door.app.hasRoute({ method: method as Method, url: path.replace(/\{(\w+)\}/g, ":$1") }), path).toBe(true);
  }
});

it("gives every operation what OpenAPI 3.1 asks for", () => {
  for (const { method, path, operation } of operationsOf(document)) {
    const name = `${method} ${path}`;
    expect(operation.summary.length, name).toBeGreaterThan(5);
    expect(operation.tags, name).toHaveLength(1);
    const inPath = (operation.parameters ?? []).filter((parameter) => parameter.in === "path");
    expect(inPath.map((parameter) => parameter.name).sort(), name).toEqual(
      [...path.matchAll(/\{(\w+)\}/g)].map((match) => match[1]).sort(),
    );
    expect(
      inPath.every((parameter) => parameter.required),
      name,
    ).toBe(true);
    expect(operation.requestBody !== undefined, name).toBe(/^(POST|PUT|PATCH)/.test(method));
    for (const [status, { description, content }] of Object.entries(operation.responses)) {
      expect(status, name).toMatch(/^([2-5]\d\d|default)$/);
      expect(description.length, name).toBeGreaterThan(1);
      if (status === "204") expect(content, name).toBeUndefined();
      else
        expect(
          Object.values(content ?? {}).every((media) => typeof media.schema === "object"),
          name,
        ).toBe(true);
      if (/^4|default/.test(status))
        expect(content, name).toEqual({
          "application/problem+json": { schema: { $ref: "#/components/schemas/Problem" } },
        });
    }
    expect(
      Object.keys(operation.responses).some((status) => status.startsWith("2")),
      name,
    ).toBe(true);
    expect(operation.responses.default, name).toBeDefined();
  }
});

it("has no reference that leads nowhere, and no name that nothing uses but the stream's", () => {
  const references = new Set(referencesIn(document));
  expect(references.size).toBeGreaterThan(10);
  for (const reference of references) expect(target(document, reference), reference).toBeTypeOf("object");
  const unused = Object.keys(document.components.schemas).filter(
    (name) => !references.has(`#/components/schemas/${name}`),
  );
  expect(
    unused.every((name) => name.startsWith("stream.")),
    unused.join(),
  ).toBe(true);
  expect(
    Object.keys(STREAM_EVENTS).filter((event) => document.components.schemas[`stream.${event}`] === undefined),
  ).toEqual([]);
});

it("speaks the dialect of OpenAPI 3.1 (JSON Schema 2020-12)", () => {
  const text = JSON.stringify(document);
  // Draft 7 wrote tuples as an array under `items` and closed them by `additionalItems` (JSON Schema 2020-12, release notes).
  for (const old of ['"items":[', '"additionalItems"', '"nullable"', '"definitions"', '"$id"', '"~'])
    expect(text).not.toContain(old);
  expect(text).toContain('"prefixItems"');
});

describe("schemas of the document say what the contract says", () => {
  const checks = (name: string, value: unknown) =>
    Compile(followed(document, document.components.schemas[name]) as Type.TSchema).Check(value);
  it.each([
    ["Board", SAMPLE_BOARD],
    ["Call", SAMPLE_BOARD.zones[0]?.call],
    ["Sheet", SAMPLE_SHEETS[0]],
    ["JournalEntry", SAMPLE_JOURNAL[2]],
    ["stream.call", SAMPLE_BOARD.zones[1]?.call],
  ])("%s", (name, value) => {
    expect(checks(name, value)).toBe(true);
    expect(checks(name, { ...value, extra: 1 })).toBe(false);
  });
  it("tuples keep their length", () => {
    const call = SAMPLE_BOARD.zones[0]?.call;
    const longer = { ...call, night: { ...call?.night, lowestMarginK: [1, 2, 3, 4] } };
    expect([Compile(CallSchema).Check(longer), checks("Call", longer)]).toEqual([false, false]);
  });
});
