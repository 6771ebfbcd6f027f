// What is held of the calls of a zone: the last one whole, of those before what the past needs, and no more than its hours.
import { describe, expect, it } from "vitest";
import { type CallBody, bodyFromCall } from "#contract/call.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { ZoneMemory } from "../../server/live/zone-memory.ts";
import { waitAfterError } from "../../server/pipeline-changes.ts";

const MINUTE_MS = 60_000;
const T0_MS = Date.UTC(2026, 0, 10);
const call = (minute: number): CallBody =>
  bodyFromCall(waitAfterError("hall", "bay", T0_MS + minute * MINUTE_MS, false).call);

describe("the memory of a zone", () => {
  it("holds the last call as it was shown, and of earlier ones what the past needs", () => {
    const memory = new ZoneMemory([call(0), call(1)]);
    memory.record(call(2));
    expect(memory.lastRecorded).toEqual(call(2));
    const { at, zone, limiting, steps, ruleVersion } = call(0);
    expect(memory.recorded[0]).toEqual({ at, zone, call: "wait", limiting, steps, ruleVersion, next: null });
    expect(memory.recorded).toHaveLength(3);
  });

  it("stays as large as its hours, however long calls go on to change", () => {
    const memory = new ZoneMemory([]);
    const hour = 60;
    let most = 0;
    for (let minute = 0; minute < 24 * hour; minute++) {
      memory.record(call(minute));
      memory.forgetBefore(T0_MS + (minute - 12 * hour) * MINUTE_MS);
      most = Math.max(most, JSON.stringify(memory.recorded).length);
    }
    expect(memory.recorded.length).toBe(12 * hour + 1);
    expect(memory.recorded[0]?.at).toBe(isoFromMs(T0_MS + (12 * hour - 1) * MINUTE_MS));
    expect(most / memory.recorded.length).toBeLessThan(250);
  });
});
