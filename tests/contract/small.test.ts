// The small schemas: times, faults, topics, readings; and every call fits the schema of the call.
import { describe, expect, it } from "vitest";
import Type from "typebox";
import { bodyFromCall, CallSchema } from "#contract/call.ts";
import { fail, readerOf, sayFaults } from "#contract/faults.ts";
import { isoFromMs, isoOrNull, msFromIso } from "#contract/primitives.ts";
import { isSlabQuantity, quantityKind, readingFromRecord } from "#contract/reading.ts";
import { nodeFilters, type Topic, topicFrom, topicOf } from "#contract/topics.ts";
import { judgeZone } from "#core/judge/judge.ts";
import { randomNight } from "../support/random-night.ts";

describe("times", () => {
  it.each([
    ["2026-02-03T19:00:00Z", Date.UTC(2026, 1, 3, 19)],
    ["2026-02-03T12:00:00-07:00", Date.UTC(2026, 1, 3, 19)],
    ["2026-02-03T23:59:59.250+13:45", Date.UTC(2026, 1, 3, 10, 14, 59, 250)],
    ["2024-02-29T00:30:00+02:00", Date.UTC(2024, 1, 28, 22, 30)],
    ["2026-02-03T19:00Z", Date.UTC(2026, 1, 3, 19)],
  ])("%s", (iso, atMs) => expect(msFromIso(iso)).toBe(atMs));

  it.each([
    "2026-02-29T00:00:00Z",
    "2026-02-31T10:00:00+01:00",
    "2026-13-01T00:00:00Z",
    "2026-02-03T25:00:00Z",
    "2026-02-03T12:00:00",
    "2026-02-03",
    "1770145200",
    "",
  ])("%s is none", (iso) => expect(msFromIso(iso)).toBeNaN());

  it("come back as they went in", () => {
    expect(isoFromMs(Date.UTC(2026, 1, 3, 19))).toBe("2026-02-03T19:00:00Z");
    expect(msFromIso(isoFromMs(1_770_145_200_125))).toBe(1_770_145_200_125);
    expect(isoOrNull(null)).toBeNull();
    expect(isoOrNull(0)).toBe("1970-01-01T00:00:00Z");
  });
});

describe("a strict reader", () => {
  const read = readerOf(
    Type.Object({ areaM2: Type.Number(), name: Type.Optional(Type.String()) }, { additionalProperties: false }),
  );
  it("coerces nothing, refuses what it does not know, names every fault", () => {
    expect(read({ areaM2: 3 })).toEqual({ ok: true, value: { areaM2: 3 } });
    const faults = (value: unknown) => {
      const checked = read(value);
      return checked.ok ? [] : checked.faults.map((fault) => fault.field);
    };
    expect(faults({ areaM2: "3" })).toEqual(["/areaM2"]);
    expect(faults({ areaM2: null })).toEqual(["/areaM2"]);
    expect(faults({})).toEqual(["/areaM2"]);
    expect(faults({ areaM2: Number.POSITIVE_INFINITY })).toEqual(["/areaM2"]);
    expect(faults({ areaM2: "3", name: 4, colour: 1 }).sort()).toEqual(["/areaM2", "/colour", "/name"]);
    expect(faults(null)).toEqual(["/"]);
  });
  it("is said in one line, three faults at most", () => {
    const faults = ["/a", "/b", "/c", "/d"].map((field) => ({ field, reason: "is missing" }));
    expect(sayFaults(faults)).toBe("/a: is missing; /b: is missing; /c: is missing; and 1 more");
    expect(sayFaults(fail("/x", "is odd").faults)).toBe("/x: is odd");
  });
});

describe("topics", () => {
  const topics: [string, Topic][] = [
    ["nightslab/v1/boathouse/node/n-1/senml", { kind: "senml", site: "boathouse", node: "n-1" }],
    ["nightslab/v1/boathouse/node/n-1/presence", { kind: "presence", site: "boathouse", node: "n-1" }],
    ["nightslab/v1/boathouse/zone/slip/call", { kind: "call", site: "boathouse", zone: "slip" }],
    ["nightslab/v1/boathouse/alarm", { kind: "alarm", site: "boathouse" }],
  ];
  it.each(topics)("%s", (name, topic) => {
    expect(topicOf(topic)).toBe(name);
    expect(topicFrom(name)).toEqual(topic);
  });
  it.each([
    "nightslab/v2/s/alarm",
    "nightslab/v1/s/alarm/x",
    "nightslab/v1/s/node/n/senml/x",
    "nightslab/v1/s/node/+/senml",
    "nightslab/v1//alarm",
    "nightslab/v1/s/zone/z/senml",
    "nightslab/v1/s/node/n",
    "other/v1/s/alarm",
    "nightslab/v1/s p/alarm",
  ])("%s is none", (name) => expect(topicFrom(name)).toBeNull());
  it("of nodes are subscribed for one site or for all", () => {
    expect(nodeFilters("boathouse")).toEqual([
      "nightslab/v1/boathouse/node/+/senml",
      "nightslab/v1/boathouse/node/+/presence",
      "nightslab/v1/boathouse/node/+/knock",
    ]);
    expect(nodeFilters(null)[0]).toBe("nightslab/v1/+/node/+/senml");
  });
});

describe("a reading from a record", () => {
  const record = (n: string, fields: object) => readingFromRecord({ n, t: 1_770_145_200.4, index: 3, ...fields });
  it("is node, quantity, time in ms and a number", () => {
    const value = { node: "n1", quantity: "slab.2", atMs: 1_770_145_200_400, value: 12.5 };
    expect(record("n1/slab.2", { u: "Cel", v: 12.5 })).toEqual({ ok: true, value });
    expect(record("n1/door", { vb: true })).toMatchObject({ value: { quantity: "door", value: 1 } });
    expect(record("n1/battery", { u: "V", v: 3.1 }).ok).toBe(true);
  });
  it.each([
    ["n1/slab", { u: "K", v: 285 }, "/3/u"],
    ["n1/slab", { v: 12 }, "/3/u"],
    ["n1/rh", { u: "%RH" }, "/3/v"],
    ["n1/door", { v: 1 }, "/3/vb"],
    ["n1/colour", { u: "Cel", v: 1 }, "/3/n"],
    ["slab", { u: "Cel", v: 1 }, "/3/n"],
    ["n1/air.2", { u: "Cel", v: 1 }, "/3/n"],
  ])("%s %j is refused at %s", (name, fields, field) => {
    expect(record(name, fields)).toMatchObject({ ok: false, faults: [{ field }] });
  });
  it("knows its kinds", () => {
    expect(["slab", "slab.12", "air", "slab.x", "airs"].map(quantityKind)).toEqual(["slab", "slab", "air", null, null]);
    expect(isSlabQuantity("slab.3")).toBe(true);
  });
});

describe("the call on the wire", () => {
  it("fits its schema, whatever the night", () => {
    const read = readerOf(CallSchema);
    for (let seed = 0; seed < 30; seed++) {
      const { log, nowMs } = randomNight(seed);
      const body: unknown = JSON.parse(JSON.stringify(bodyFromCall(judgeZone(log, "a", nowMs).call)));
      expect(read(body)).toEqual({ ok: true, value: body });
    }
  });
});
