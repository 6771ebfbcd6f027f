// Slopes that are kept from look to look: of what says nothing new, exactly those that would be reckoned anew.
import { expect, it } from "vitest";
import type { Track } from "#core/zone/heard.ts";
import { SLOPE_SPAN_MS, slopeAt, slopeKPerH, type Slopes } from "#core/zone/slope.ts";
import { randomOf } from "../../support/random-night.ts";

const MINUTE_MS = 60_000;

it("keeps a slope while its track does, and lets go of it when the probe has been silent for the span", () => {
  const random = randomOf(7);
  let kept = 0;
  let ended = 0;
  for (let run = 0; run < 200; run++) {
    const count = Math.floor(random.between(0, 40));
    const atMs = Array.from({ length: count }, (_, at) => at * 3 * MINUTE_MS);
    const track: Track = { node: "n-1", quantity: "slab", atMs, values: atMs.map(() => random.between(5, 15)) };
    const other: Track = { ...track, values: track.values.map((value) => value + random.between(0, 1)) };
    const movedMs = random.chance(0.3) ? random.between(0, 60) * MINUTE_MS : Number.NEGATIVE_INFINITY;
    const lastMs = atMs.at(-1) ?? 0;
    const slopes: Slopes = [];
    for (const afterMs of [0, MINUTE_MS, SLOPE_SPAN_MS, SLOPE_SPAN_MS + 1]) {
      const nowMs = lastMs + afterMs;
      const plain = slopeKPerH(track, nowMs, movedMs);
      expect(slopeAt(slopes, 2, track, nowMs, movedMs)).toBe(plain);
      if (plain !== null && afterMs > 0) kept++;
      if (plain === null && afterMs > SLOPE_SPAN_MS) ended++;
    }
    // Another track in the same place.
    expect(slopeAt(slopes, 2, other, lastMs, movedMs)).toBe(slopeKPerH(other, lastMs, movedMs));
    expect(slopeAt(slopes, 1, track, lastMs, movedMs)).toBe(slopeKPerH(track, lastMs, movedMs));
  }
  expect(kept).toBeGreaterThan(100);
  expect(ended).toBe(200);
});
