// One listener whose line blocks and frees at will: what waits, what is replaced, when it is cut off.
import { EventEmitter } from "node:events";
import type { ServerResponse } from "node:http";
import { expect, it } from "vitest";
import type { Frame } from "../../server/stream/frame.ts";
import { createListener } from "../../server/stream/listener.ts";

/** A line that takes `takes` further writes before it blocks. */
class Line extends EventEmitter {
  readonly written: string[] = [];
  takes = 0;
  over: "ended" | "destroyed" | null = null;
  write(text: string): boolean {
    this.written.push(text);
    this.takes -= 1;
    return this.takes > 0;
  }
  end(): void {
    this.over = "ended";
  }
  destroy(): void {
    this.over = "destroyed";
  }
  free(takes: number): void {
    this.takes = takes;
    this.emit("drain");
  }
}

function listening(maxWaiting = 3, maxBlockedBeats = 2) {
  const line = new Line();
  const counted = { coalesced: 0, givenUp: 0 };
  const listener = createListener(
    line as unknown as ServerResponse,
    { maxWaiting, maxBlockedBeats },
    {
      coalesced: () => void (counted.coalesced += 1),
      givenUp: () => void (counted.givenUp += 1),
    },
  );
  return { line, counted, listener };
}
const frame = (sequence: number, latestOf: string | null): Frame => ({
  sequence,
  latestOf,
  zone: null,
  text: String(sequence),
});

it("writes on while the line takes it", () => {
  const { line, listener } = listening();
  line.takes = 9;
  for (const sequence of [1, 2, 3]) listener.send(frame(sequence, "zone/slip"));
  expect(line.written).toEqual(["1", "2", "3"]);
});

it("keeps of one key the latest, of calls every one, and the order of all", () => {
  const { line, counted, listener } = listening();
  listener.send(frame(1, null));
  const sent: [number, string | null][] = [
    [2, "zone/slip"],
    [3, null],
    [4, "zone/slip"],
    [5, "zone/tools"],
    [6, null],
    [7, "zone/slip"],
  ];
  for (const [sequence, key] of sent) listener.send(frame(sequence, key));
  expect(line.written).toEqual(["1"]);
  line.free(9);
  expect(line.written).toEqual(["1", "3", "5", "6", "7"]);
  expect(counted).toEqual({ coalesced: 2, givenUp: 0 });
});

it("goes on waiting when the line blocks again midway", () => {
  const { line, listener } = listening();
  for (const sequence of [1, 2, 3, 4]) listener.send(frame(sequence, null));
  line.free(2);
  expect(line.written).toEqual(["1", "2", "3"]);
  listener.send(frame(5, null));
  line.free(9);
  expect(line.written).toEqual(["1", "2", "3", "4", "5"]);
});

it("is cut off, once, when more waits than may", () => {
  const { line, counted, listener } = listening(3);
  for (let sequence = 1; sequence <= 4; sequence += 1) listener.send(frame(sequence, null));
  expect([line.over, counted.givenUp]).toEqual([null, 0]);
  for (let sequence = 5; sequence <= 9; sequence += 1) listener.send(frame(sequence, null));
  expect([line.over, counted.givenUp, line.written]).toEqual(["destroyed", 1, ["1"]]);
});

it("is not cut off for what can be replaced", () => {
  const { line, listener } = listening(3);
  for (let sequence = 1; sequence <= 1000; sequence += 1) listener.send(frame(sequence, `zone/${sequence % 50}`));
  expect(line.over).toBeNull();
});

it("gets no beat on a blocked line, and is cut off when beats find it blocked again and again", () => {
  const { line, counted, listener } = listening(3, 2);
  line.takes = 2;
  listener.beat("beat");
  listener.send(frame(1, null));
  listener.beat("beat");
  line.free(1);
  listener.beat("beat");
  listener.send(frame(2, null));
  for (let beats = 0; beats < 2; beats += 1) listener.beat("beat");
  expect([line.written, line.over]).toEqual([["beat", "1", "beat"], null]);
  listener.beat("beat");
  expect([line.over, counted.givenUp]).toEqual(["destroyed", 1]);
});

it("ends politely on a free line, and cuts a blocked one that would hold the server up", () => {
  const free = listening();
  free.listener.end();
  const blocked = listening();
  blocked.listener.send(frame(1, null));
  blocked.listener.end();
  expect([free.line.over, blocked.line.over]).toEqual(["ended", "destroyed"]);
});

it("a line that breaks under a write is closed and brings nobody else down", () => {
  const { line } = listening();
  line.emit("error", new Error("reset by peer"));
  expect(line.over).toBe("destroyed");
});
