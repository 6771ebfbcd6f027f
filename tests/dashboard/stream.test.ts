// The live stream: reading, numbering, resuming, starting over, backing off.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { applyTold, toldFrom } from "../../dashboard/data/apply.ts";
import { eventReader } from "../../dashboard/data/event-lines.ts";
import { backoffMs } from "../../dashboard/data/backoff.ts";
import { placeFrom, stepOf } from "../../dashboard/data/sequence.ts";
import { followStream } from "../../dashboard/data/stream.ts";
import { sampleBoard } from "../support/sample-night.ts";

const TEXT = `retry: 2000\n\n: hello\nid: a-1\nevent: beat\ndata: {"a":\ndata: 1}\n\nevent: x\r\ndata: y\r\n\r\ndata: z\r\r`;

describe("reading events", () => {
  it("is the same however the text is cut", () => {
    // The format is the HTML standard's (9.2.6, interpreting an event stream).
    const expected = [
      { event: "beat", data: '{"a":\n1}', id: "a-1" },
      { event: "x", data: "y", id: null },
      { event: "message", data: "z", id: null },
    ];
    fc.assert(
      fc.property(fc.array(fc.nat(TEXT.length), { maxLength: 12 }), (cuts) => {
        const reader = eventReader();
        const at = [0, ...cuts.sort((a, b) => a - b), TEXT.length];
        const found = at.slice(1).flatMap((end, index) => reader.push(TEXT.slice(at[index], end)));
        expect([...found, ...reader.push("\n")]).toEqual(expected);
      }),
    );
  });
});

describe("numbering", () => {
  it("reads ids whose start holds hyphens", () => {
    expect(placeFrom("a-b-12")).toEqual({ startId: "a-b", sequence: 12 });
    expect(placeFrom("12")).toBeNull();
    expect(placeFrom(null)).toBeNull();
  });
  it("takes, skips, sees gaps and foreign starts", () => {
    const known = { startId: "s", sequence: 5 };
    expect(stepOf(known, { startId: "s", sequence: 6 }, "call")).toBe("take");
    expect(stepOf(known, { startId: "s", sequence: 5 }, "call")).toBe("skip");
    expect(stepOf(known, { startId: "s", sequence: 9 }, "call")).toBe("gap");
    expect(stepOf(known, { startId: "t", sequence: 6 }, "call")).toBe("restart");
    expect(stepOf(known, { startId: "t", sequence: 0 }, "snapshot")).toBe("take");
    expect(stepOf(known, null, "beat")).toBe("take");
    expect(stepOf(null, null, "beat")).toBe("restart");
  });
  it("waits longer each time, up to half a minute", () => {
    const waits = [0, 1, 2, 3, 20].map((tries) => backoffMs(tries, 1));
    expect(waits).toEqual([500, 1000, 2000, 4000, 30_000]);
    expect(backoffMs(20, 0)).toBe(15_000);
  });
});

/** Runs the follower against a list of connections, each a list of pieces of text, or null for one that fails. */
async function follow(connections: readonly (readonly string[] | null)[], upTo: string | null = null) {
  const asked: (string | null)[] = [];
  const told: string[] = [];
  let gaps = 0;
  const losses: number[] = [];
  const stop = new AbortController();
  await followStream(
    {
      random: () => 1,
      soon: (run) => run(),
      wait: () => Promise.resolve(),
      open: (lastId) => {
        const pieces = connections[asked.length];
        asked.push(lastId);
        if (asked.length === connections.length) stop.abort();
        if (pieces === null || pieces === undefined) return Promise.reject(new Error("refused"));
        return Promise.resolve(
          (async function* () {
            yield* pieces;
          })(),
        );
      },
    },
    { told: (item) => told.push(item.event), gap: () => (gaps += 1), lost: (times) => losses.push(times) },
    stop.signal,
    upTo,
  );
  return { asked, told, gaps, losses };
}

const frame = (id: string, event: string, body: unknown = {}) =>
  `id: ${id}\nevent: ${event}\ndata: ${JSON.stringify(body)}\n\n`;

describe("following", () => {
  it("resumes after the last event", async () => {
    const { asked, told, losses } = await follow([
      [frame("s-4", "snapshot"), frame("s-5", "call")],
      null,
      null,
      [frame("s-6", "call")],
    ]);
    expect(asked).toEqual([null, "s-5", "s-5", "s-5"]);
    expect(told).toEqual(["snapshot", "call", "call"]);
    expect(losses).toEqual([1, 2, 3]);
  });
  it("goes on after a board that came otherwise, and starts over where the server cannot tell what followed", async () => {
    const { asked, told, gaps } = await follow(
      [[frame("s-4", "call"), frame("s-5", "call")], [frame("t-2", "snapshot")], [frame("t-3", "call")]],
      "s-4",
    );
    expect(asked).toEqual(["s-4", "s-5", "t-2"]);
    expect(told).toEqual(["call", "snapshot", "call"]);
    expect(gaps).toBe(0);
  });
  it("does not apply an event twice", async () => {
    const { told } = await follow([
      [frame("s-4", "snapshot"), frame("s-5", "call")],
      [frame("s-5", "call"), frame("s-6", "zone")],
    ]);
    expect(told).toEqual(["snapshot", "call", "zone"]);
  });
  it("starts over when the server did", async () => {
    const { asked, told } = await follow([
      [frame("s-4", "snapshot")],
      [frame("t-1", "call")],
      [frame("t-1", "snapshot")],
    ]);
    expect(asked).toEqual([null, "s-4", null]);
    expect(told).toEqual(["snapshot", "snapshot"]);
  });
  it("tells of a gap", async () => {
    const { told, gaps } = await follow([[frame("s-4", "snapshot"), frame("s-9", "call")]]);
    expect(told).toEqual(["snapshot", "call"]);
    expect(gaps).toBe(1);
  });
  it("skips events it does not know and data it cannot read", async () => {
    const { told } = await follow([
      [
        frame("s-4", "snapshot"),
        frame("s-5", "novelty"),
        "id: s-6\nevent: call\ndata: {\n\n",
        frame("s-7", "beat", { at: "x" }),
      ],
    ]);
    expect(told).toEqual(["snapshot", "beat"]);
  });
});

describe("applying", () => {
  const board = sampleBoard();
  const inner = board.zones[1];
  if (inner === undefined) throw new Error("no zone");
  const told = (event: string, body: unknown) => {
    const item = toldFrom(event, JSON.stringify(body));
    if (item === null) throw new Error(event);
    return item;
  };
  it("a changed call grows the past strip", () => {
    const call = { ...inner.call, call: "wait", limiting: "dew-margin", at: "2026-02-03T12:06:00Z" };
    const zone = applyTold(board, told("call", call))?.zones[1];
    expect(zone?.call.call).toBe("wait");
    expect(zone?.past.at(-1)).toEqual({
      from: call.at,
      to: null,
      call: "wait",
      limiting: "dew-margin",
      hindsight: false,
    });
    expect(zone?.past.at(-2)?.to).toBe(call.at);
  });
  it("the same call again does not", () => {
    expect(applyTold(board, told("call", inner.call))?.zones[1]?.past).toEqual(inner.past);
  });
  it("conditions renew the age of the readings", () => {
    const next = applyTold(
      board,
      told("conditions", {
        zone: "stair",
        at: "2026-02-03T12:10:00Z",
        conditions: { ...inner.call.conditions, ageS: 60 },
      }),
    );
    expect(next?.zones[4]?.lastHeard).toBe("2026-02-03T12:09:00.000Z");
    expect(next?.at).toBe("2026-02-03T12:10:00Z");
  });
  it("a whole zone takes its place, a new one joins, nodes likewise", () => {
    expect(applyTold(board, told("zone", { ...inner, lastHeard: null }))?.zones.map((zone) => zone.zone.id)).toEqual(
      board.zones.map((zone) => zone.zone.id),
    );
    expect(applyTold(board, told("zone", { ...inner, zone: { ...inner.zone, id: "new" } }))?.zones).toHaveLength(7);
    const node = board.nodes[0];
    expect(applyTold(board, told("node", { ...node, batteryPct: 5 }))?.nodes[0]?.batteryPct).toBe(5);
  });
  it("nothing is applied before a snapshot", () => {
    expect(applyTold(null, told("call", inner.call))).toBeNull();
    expect(applyTold(null, told("snapshot", board))).toEqual(board);
  });
});
