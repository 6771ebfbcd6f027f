// The board as the device knows it: kept, live, away, and back.
import { sampleAlarm } from "../support/sample-alarms.ts";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";
import { isOld } from "../../dashboard/app/age.ts";
import { ApiFailure } from "../../dashboard/data/api.ts";
import { applyTold } from "../../dashboard/data/apply.ts";
import { followStream, type StreamListener } from "../../dashboard/data/stream.ts";
import { boardStore } from "../../dashboard/data/board-store.ts";
import type { Keep } from "../../dashboard/data/keep.ts";
import { SILENT_AFTER_MS, siteNow } from "../../dashboard/data/site-clock.ts";
import { sampleBoard } from "../support/sample-night.ts";

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function keepOf(first: Record<string, unknown> = {}): Keep & { kept: Record<string, unknown> } {
  const kept = { ...first };
  return { kept, read: (key) => kept[key] ?? null, write: (key, value) => ((kept[key] = value), true), drop: () => {} };
}

/** A stream that this test feeds; ended by `end`. */
function lineOf() {
  const queue: string[] = [];
  let wake = () => {};
  let over = false;
  return {
    send(text: string) {
      queue.push(text);
      wake();
    },
    end() {
      over = true;
      wake();
    },
    async *pieces(signal: AbortSignal) {
      signal.addEventListener("abort", () => this.end());
      while (!over) {
        const next = queue.shift();
        if (next !== undefined) yield next;
        else await new Promise<void>((resolve) => (wake = resolve));
      }
    },
  };
}

const frame = (id: string, event: string, body: unknown) =>
  `id: ${id}\nevent: ${event}\ndata: ${JSON.stringify(body)}\n\n`;

function storeWith(keep: Keep, fetchBoard: () => Promise<ReturnType<typeof sampleBoard>>) {
  const lines: ReturnType<typeof lineOf>[] = [];
  let refuse = false;
  const store = boardStore(
    "boathouse",
    keep,
    fetchBoard,
    (listener, signal) =>
      followStream(
        {
          random: () => 1,
          soon: (run) => run(),
          wait: (ms) => new Promise((resolve) => setTimeout(resolve, ms)),
          open: (_lastId, signal) => {
            if (refuse) return Promise.reject(new Error("gone"));
            const line = lineOf();
            lines.push(line);
            return Promise.resolve(line.pieces(signal));
          },
        },
        listener,
        signal,
      ),
    () => Date.now(),
  );
  return { store, lines, refuse: (value: boolean) => void (refuse = value) };
}

const never = () => new Promise<ReturnType<typeof sampleBoard>>(() => {});

describe("the store", () => {
  it("shows the kept board at once, aged by when it was heard", () => {
    const board = sampleBoard();
    const heardMs = Date.now() - 600_000;
    const { store } = storeWith(keepOf({ "board.boathouse": { board, heardMs } }), never);
    const state = store.signal.get();
    expect(state.board).toEqual(board);
    expect(isOld(state, Date.now())).toBe(true);
    expect(siteNow(state.anchor!, Date.now())).toBe(Date.parse(board.at) + 600_000);
  });

  it("goes live with the snapshot and keeps it on the device", async () => {
    const keep = keepOf();
    const { store, lines } = storeWith(keep, never);
    store.start();
    await vi.advanceTimersByTimeAsync(10);
    lines[0]?.send(frame("s-1", "snapshot", sampleBoard()));
    await vi.advanceTimersByTimeAsync(10);
    expect(store.signal.get().link).toBe("live");
    expect(keep.kept["board.boathouse"]).toMatchObject({ heardMs: expect.any(Number) });
    store.stop();
  });

  it("keeps nothing that comes when whoever looked has left: this device has forgotten what was theirs", async () => {
    const keep = keepOf();
    let answer: (board: ReturnType<typeof sampleBoard>) => void = () => {};
    let tell: (item: Parameters<StreamListener["told"]>[0]) => void = () => {};
    const store = boardStore(
      "boathouse",
      keep,
      () => new Promise((resolve) => (answer = resolve)),
      async (listener) => {
        tell = (item) => listener.told(item, applyTold);
      },
      () => Date.now(),
    );
    store.start();
    store.stop();
    answer(sampleBoard());
    tell({ event: "snapshot", body: sampleBoard() });
    await vi.advanceTimersByTimeAsync(10);
    expect(keep.kept).toEqual({});
    expect(store.signal.get().board).toBeNull();
  });

  it("is away after forty silent seconds, and live again with the next word", async () => {
    const { store, lines } = storeWith(keepOf(), never);
    store.start();
    await vi.advanceTimersByTimeAsync(10);
    lines[0]?.send(frame("s-1", "snapshot", sampleBoard()));
    await vi.advanceTimersByTimeAsync(SILENT_AFTER_MS - 1000);
    expect(store.signal.get().link).toBe("live");
    await vi.advanceTimersByTimeAsync(3000);
    expect(store.signal.get().link).toBe("away");
    // The silent line was hung up on and opened anew.
    expect(lines.length).toBeGreaterThan(1);
    lines.at(-1)?.send(`event: beat\ndata: ${JSON.stringify({ at: "2026-02-03T12:06:00Z" })}\n\n`);
    await vi.advanceTimersByTimeAsync(10);
    expect(store.signal.get().link).toBe("live");
    expect(store.signal.get().board?.at).toBe("2026-02-03T12:06:00Z");
    store.stop();
  });

  it("is away within seconds when the server is gone", async () => {
    const { store, lines, refuse } = storeWith(keepOf(), never);
    store.start();
    await vi.advanceTimersByTimeAsync(10);
    lines[0]?.send(frame("s-1", "snapshot", sampleBoard()));
    await vi.advanceTimersByTimeAsync(10);
    refuse(true);
    lines[0]?.end();
    await vi.advanceTimersByTimeAsync(4000);
    expect(store.signal.get().link).toBe("away");
    expect(store.signal.get().board?.zones).toHaveLength(6);
    store.stop();
  });

  it("knows a site that is not there from a server that is not there", async () => {
    const missing = storeWith(keepOf(), () => Promise.reject(new ApiFailure("refused", 404, "no")));
    missing.store.start();
    await vi.advanceTimersByTimeAsync(10);
    expect(missing.store.signal.get().link).toBe("refused");
    missing.store.stop();
    const gone = storeWith(keepOf(), () => Promise.reject(new ApiFailure("reach", 0, "no")));
    gone.store.start();
    await vi.advanceTimersByTimeAsync(10);
    expect(gone.store.signal.get().link).toBe("away");
    gone.store.stop();
  });

  it("tells of journal entries and alarms", async () => {
    const { store, lines } = storeWith(keepOf(), never);
    store.start();
    await vi.advanceTimersByTimeAsync(10);
    lines[0]?.send(
      frame("s-1", "snapshot", sampleBoard()) +
        frame("s-2", "journal", { id: "e1", did: "washed", at: "x" }) +
        frame("s-3", "alarm", sampleAlarm()),
    );
    await vi.advanceTimersByTimeAsync(10);
    expect(store.lastEntry.get()?.id).toBe("e1");
    expect(store.signal.get().alarms.map(({ kind }) => kind)).toEqual(["margin-ahead"]);
    store.takeAlarms([sampleAlarm({ id: "older", raisedAt: "2026-02-03T01:00:00Z" })], []);
    expect(store.signal.get().alarms.map(({ id }) => id)).toEqual(["a1", "older"]);
    store.takeAlarms([sampleAlarm()], store.signal.get().alarms);
    expect(store.signal.get().alarms.map(({ id }) => id)).toEqual(["a1"]);
    lines[0]?.send(frame("s-4", "alarm", sampleAlarm({ state: "cleared" })));
    await vi.advanceTimersByTimeAsync(10);
    expect(store.signal.get().alarms).toEqual([]);
    store.stop();
  });
});

describe("the site's clock", () => {
  it("runs on by the device, and stands still in a time-lapse whose server is silent", () => {
    expect(siteNow({ siteMs: 1000, deviceMs: 50_000, pace: 1 }, 60_000)).toBe(11_000);
    expect(siteNow({ siteMs: 0, deviceMs: 0, pace: 60 }, 10_000)).toBe(600_000);
    expect(siteNow({ siteMs: 0, deviceMs: 0, pace: 60 }, 10_000_000)).toBe(SILENT_AFTER_MS * 60);
    expect(siteNow({ siteMs: 1000, deviceMs: 50_000, pace: 1 }, 40_000)).toBe(1000);
  });
});
