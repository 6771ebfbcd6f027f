// What is walked once, or not looked at, comes out as if it had been searched for at every reading.
import { expect, it } from "vitest";
import { Held, HOLD_MS } from "#core/zone/cursor.ts";
import { lastIndexAt, type Track } from "#core/zone/heard.ts";
import { type Gain, type GainAsk, gainIn, swingsOf } from "#core/zone/trust/gain.ts";
import { randomOf, type Random } from "../../support/random-night.ts";

const MINUTE_MS = 60_000;
const HOUR_MS = 60 * MINUTE_MS;

/** A day of readings with gaps; of a temperature that swings, in steps of a hundredth. */
function trackOf(random: Random, everyMin: number): Track {
  const atMs: number[] = [];
  const values: number[] = [];
  const [swingK, hours, noiseK] = [random.between(0, 3), random.between(0.5, 5), random.between(0, 0.5)];
  for (let time = 0; time < 24 * HOUR_MS; time += random.chance(everyMin / 400) ? 2 * HOUR_MS : everyMin * MINUTE_MS) {
    if (random.chance(0.1)) continue;
    atMs.push(time + Math.floor(random.between(0, 20_000)));
    const swing = swingK * Math.sin((time / HOUR_MS / hours) * 2 * Math.PI);
    values.push(Math.round(100 * (14 + swing + random.between(-noiseK, noiseK))) / 100);
  }
  return { node: "n", quantity: "slab", atMs, values };
}

function heldAt({ atMs, values }: Track, timeMs: number, movedMs: number): number {
  const at = lastIndexAt(atMs, timeMs);
  const takenMs = atMs[at];
  if (takenMs === undefined || timeMs - takenMs > HOLD_MS) return Number.NaN;
  if (takenMs < movedMs && timeMs >= movedMs) return Number.NaN;
  if (timeMs > takenMs && (atMs[at + 1] ?? takenMs) - takenMs > HOLD_MS) return Number.NaN;
  return values[at] as number;
}

it("holds readings as they would be found one by one", () => {
  for (let seed = 1; seed <= 60; seed++) {
    const random = randomOf(seed);
    const track = trackOf(random, random.pick([1, 5, 20]));
    const others = Array.from({ length: 300 }, () => Math.floor(random.between(-2, 26) * HOUR_MS));
    const times = Float64Array.from(new Set([...others, ...track.atMs])).sort();
    const movedMs = random.chance(0.5) ? Number.NEGATIVE_INFINITY : random.between(0, 24) * HOUR_MS;
    const held = new Held(times);
    // A second track of the same pack, and the same one as if it had not been moved.
    const pack = { ...track, values: track.values.map((value) => -value) };
    expect([...held.of(track, movedMs)]).toEqual([...times].map((atMs) => heldAt(track, atMs, movedMs)));
    expect([...held.of(pack, movedMs)]).toEqual([...times].map((atMs) => heldAt(pack, atMs, movedMs)));
    expect([...held.of(track)]).toEqual([...times].map((atMs) => heldAt(track, atMs, Number.NEGATIVE_INFINITY)));
  }
});

/** The gain by a search at every reading of the air, whatever it did. */
function searchedGain(probe: Track, air: Track, lagMs: number, { fromMs, toMs, leastK }: GainAsk): Gain {
  const near = ({ atMs, values }: Track, timeMs: number) => {
    const at = lastIndexAt(atMs, timeMs);
    return at < 0 || timeMs - (atMs[at] as number) > lagMs / 2 ? Number.NaN : (values[at] as number);
  };
  const [sums, counts] = [
    { up: [0, 0], down: [0, 0] },
    { up: 0, down: 0 },
  ];
  let last = "";
  for (const [index, atMs] of air.atMs.entries()) {
    if (atMs <= fromMs || atMs > toMs) continue;
    const airK = (air.values[index] as number) - near(air, atMs - lagMs);
    const slabK = near(probe, atMs) - near(probe, atMs - lagMs);
    if (!(Math.abs(airK) >= leastK) || Number.isNaN(slabK)) continue;
    const way = airK > 0 ? "up" : "down";
    const sum = sums[way] as [number, number];
    sum[0] += airK * slabK;
    sum[1] += airK * airK;
    if (way !== last) counts[way]++;
    last = way;
  }
  const gain = ([over, under]: number[]) => (over as number) / (under as number);
  return { up: gain(sums.up), down: gain(sums.down), swings: Math.min(counts.up, counts.down) };
}

it("leaves out only swings that are too few", () => {
  let found = 0;
  let none = 0;
  for (let seed = 1; seed <= 300; seed++) {
    const random = randomOf(seed);
    const [probe, air] = [trackOf(random, random.pick([1, 5])), trackOf(random, random.pick([1, 5]))];
    const lagMs = random.pick([10, 30]) * MINUTE_MS;
    const swings = swingsOf(air, lagMs, 0.3);
    for (let turn = 0; turn < 8; turn++) {
      const fromMs = Math.floor(random.between(-2, 22) * HOUR_MS);
      const [leastK, eachWay] = [random.pick([0.3, 1]), random.pick([2, 6])];
      const ask = { fromMs, toMs: fromMs + Math.floor(random.between(1, 6) * HOUR_MS), leastK, eachWay };
      const searched = searchedGain(probe, air, lagMs, ask);
      const gain = gainIn(probe, swings, ask);
      expect(gain).toEqual(searched.swings >= eachWay ? searched : null);
      if (gain === null) none++;
      else found++;
    }
  }
  expect(found).toBeGreaterThan(200);
  expect(none).toBeGreaterThan(200);
});
