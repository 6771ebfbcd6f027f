// Random night logs from a seed: sheets of a few shapes, smooth courses, one to three slab probes, one or two chips,
// gaps, late packets, and a journal of what crews do. A good share of them is a pour, so that properties are not empty.
import { rhPctFromDewPoint } from "#core/air/dew-point.ts";
import type { Sheet } from "#core/cure/sheet.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { Node, Series, PlainLog } from "#core/zone/site.ts";
import { entry, ground, HOUR_MS, MINUTE_MS, nodeOf, NOON_MS, poured, row, slowEpoxy, zoneA } from "./night-log.ts";

export interface Random {
  (): number;
  between(min: number, max: number): number;
  chance(share: number): boolean;
  pick<T>(list: readonly T[]): T;
}

/** mulberry32: small, seeded, the same everywhere. */
export function randomOf(seed: number): Random {
  let state = seed >>> 0;
  const next = () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
  return Object.assign(next, {
    between: (min: number, max: number) => min + (max - min) * next(),
    chance: (share: number) => next() < share,
    pick: <T>(list: readonly T[]) => list[Math.floor(next() * list.length)] as T,
  });
}

const limits = { ...slowEpoxy.limits, resinC: [null, null] as const };
const SHEETS: readonly Sheet[] = [
  { ...slowEpoxy, limits },
  {
    ...slowEpoxy,
    limits: { ...limits, rhPct: [null, 80] },
    cure: [
      row(5, { recoatFromH: 9, recoatUntilH: 40, dewSafeH: 7, footH: 16 }),
      row(20, { recoatFromH: 3, recoatUntilH: 24, footH: 5 }),
    ],
  },
  { ...slowEpoxy, limits, cure: [row(23, { recoatFromH: 8, recoatUntilH: 36, footH: 20 })] },
  {
    ...slowEpoxy,
    limits,
    window: "open",
    cure: [row(10, { recoatFromH: 16 }), row(30, { recoatFromH: 5, dewSafeH: 6 })],
  },
];

export interface NightKind {
  /** Nothing changes in the last two and a half hours: what is taken away then tells nothing new. */
  readonly calm?: boolean;
  /** No gaps and nothing late. */
  readonly whole?: boolean;
  /** At least two slab probes and two chips. */
  readonly many?: boolean;
}

export interface RandomNight {
  readonly log: PlainLog;
  readonly nowMs: number;
  readonly random: Random;
}

function journalOf(random: Random, nowMs: number): JournalEntry[] {
  const ago = (hours: number) => nowMs - hours * HOUR_MS;
  const sometimes = (share: number, make: () => JournalEntry[]) => (random.chance(share) ? make() : []);
  const work = [
    ...sometimes(0.08, () => [entry("held", ago(random.between(0.2, 3)), { why: "wet edge" })]),
    ...sometimes(0.1, () => [entry("released", ago(random.between(0, 0.2)))]),
    ...sometimes(0.1, () => [entry("washed", ago(random.between(1, 12)))]),
    ...sometimes(0.08, () => [
      entry("inspected", ago(random.between(0.1, 2)), { surface: random.pick(["greasy", "dusty", "damp", "dry"]) }),
    ]),
    ...sometimes(0.3, () => [entry("inspected", ago(random.between(0.1, 1)), { surface: "clean", film: "hard" })]),
    ...sometimes(0.06, () => [
      entry("inspected", ago(random.between(0.1, 3)), { film: random.pick(["soft", "hard"]) }),
    ]),
  ];
  if (random.chance(0.3)) return [...ground(nowMs, random.between(0.5, 20)), ...work];
  const startH = random.between(4, 40);
  const abraded = random.chance(0.35) ? random.between(0.5, Math.min(30, startH - 2)) : null;
  return [
    ...ground(ago(startH), 1),
    poured(0, ago(startH), random.between(0.4, 2), random.chance(0.2) ? { broadcast: "full" } : {}),
    ...(abraded === null ? [] : [entry("abraded", ago(abraded))]),
    ...(abraded === null || random.chance(0.15) ? [] : [entry("cleaned", ago(abraded * 0.7))]),
    ...work,
  ];
}

function coursesOf(random: Random, nowMs: number, calm: boolean) {
  const [slabC, swingK, phaseH] = [random.between(10.5, 25), random.between(0, 1.5), random.between(0, 24)];
  const [driftK, airK, airSwingK] = [random.between(-0.04, 0.04), random.between(-0.5, 3), random.between(0, 2)];
  const [marginK, dewSwingK] = [random.between(2.4, 9), random.between(0, 1.6)];
  const held = (atMs: number) => (calm ? Math.min(atMs, nowMs - 2.5 * HOUR_MS) : atMs);
  const wave = (atMs: number, lagH: number) =>
    Math.sin((2 * Math.PI * ((held(atMs) - nowMs) / HOUR_MS + phaseH - lagH)) / 24);
  const slab = (atMs: number) => slabC + (driftK * (held(atMs) - nowMs)) / HOUR_MS + swingK * wave(atMs, 3);
  const dew = (atMs: number) => slabC - marginK + dewSwingK * wave(atMs, 9);
  return { slab, air: (atMs: number) => slab(atMs) + airK + airSwingK * wave(atMs, 0), dew };
}

/** One random night, judged at `nowMs` for zone "a". */
export function randomNight(seed: number, kind: NightKind = {}): RandomNight {
  const random = randomOf(seed);
  const nowMs = NOON_MS + Math.floor(random.between(0, 24 * 60)) * MINUTE_MS;
  const course = coursesOf(random, nowMs, kind.calm ?? false);
  const everyS = random.pick([600, 900, 1200]);
  const fromMs = nowMs - random.pick([30, 52, 52, 52]) * HOUR_MS;
  const nodes: Node[] = [nodeOf("n1", { everyS })];
  if (kind.many === true || random.chance(0.6)) nodes.push(nodeOf("n2", { everyS }));
  const gapMs = { from: nowMs - random.between(2, 30) * HOUR_MS, long: random.between(20, 200) * MINUTE_MS };
  const gapped = kind.whole !== true && random.chance(0.2) ? random.pick(nodes).id : null;
  const late = kind.whole !== true && random.chance(0.4);
  const series: Series[] = [];
  const send = (node: string, quantity: string, value: (atMs: number) => number, phaseMs: number) => {
    const atMs: number[] = [];
    for (let takenMs = fromMs + phaseMs; takenMs <= nowMs; takenMs += everyS * 1000) {
      if (node === gapped && takenMs > gapMs.from && takenMs < gapMs.from + gapMs.long) continue;
      atMs.push(takenMs);
    }
    const heardMs = atMs.map(
      (takenMs) => takenMs + (late && random.chance(0.1) ? random.between(0, 4 * HOUR_MS) : 2000),
    );
    series.push({ node, quantity, atMs, values: atMs.map(value), heardMs });
  };
  for (const [index, node] of nodes.entries()) {
    const phaseMs = index * Math.floor(random.between(0, everyS)) * 1000;
    const offsetK = index === 0 ? 0 : random.between(-1.5, 1.5);
    send(node.id, "slab", (atMs) => course.slab(atMs) + offsetK, phaseMs);
    const edgeK = random.pick([0.4, 0.8]);
    if (index === 0 && random.chance(0.4)) send(node.id, "slab.2", (atMs) => course.slab(atMs) - edgeK, phaseMs);
    if (index > 0 && kind.many !== true && random.chance(0.4)) continue;
    const [warmerK, wetterK] = index === 0 ? [0, 0] : [random.between(-1, 1), random.between(-0.6, 0.6)];
    const [airC, dewC] = [(atMs: number) => course.air(atMs) + warmerK, (atMs: number) => course.dew(atMs) + wetterK];
    send(node.id, "air", airC, phaseMs);
    send(node.id, "rh", (atMs) => Math.min(100, rhPctFromDewPoint(airC(atMs), dewC(atMs))), phaseMs);
  }
  const [first, second] = [random.pick(SHEETS), random.pick(SHEETS)];
  const log: PlainLog = {
    site: "random",
    timezone: "America/Denver",
    altitudeM: 1600,
    sheets: [
      { ...first, id: "s1" },
      { ...second, id: "s2" },
    ],
    zones: [
      { ...zoneA, system: ["s1", "s2"], areaM2: random.between(20, 200), base: random.pick(["porous", "sealed"]) },
    ],
    nodes,
    journal: journalOf(random, nowMs),
    series,
    feeds: [],
  };
  return { log, nowMs, random };
}
