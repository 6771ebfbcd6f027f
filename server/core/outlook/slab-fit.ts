// What kind of slab lies there: some dozens of candidates are run through the air of the last two days, and those that
// gave the slab temperatures that were heard are believed.
import { latin } from "#core/outlook/draws.ts";
import { PAST_STEPS, STEP_MS, STEPS_PER_DAY } from "#core/outlook/past.ts";
import { belowC, runSlab, type SlabUnder } from "#core/outlook/slab-run.ts";
import { LONG_STEPS } from "#core/outlook/steps-ahead.ts";
import { type SlabGrid, slabGrid } from "#core/slab/grid.ts";
import { MATERIALS } from "#core/slab/materials.ts";
import { type ModeStep, modeStep, partsOf, type SlabModes, slabModes } from "#core/slab/modes.ts";

const STEP_H = STEP_MS / 3_600_000;
/** Walls and roof follow the air by this time; the slab sees them as much as the air. */
export const WALL_H = 5;
/** An error of this size over a day halves belief in a candidate and more. */
const BELIEF_K = 0.25;
/** A day of ten-minute errors counts as so many independent ones. */
const INDEPENDENT = 6;

type Floor = "on-grade" | "insulated" | "suspended";

/** One candidate slab: its numerics, and where it stands now. */
export interface SlabCandidate extends SlabUnder {
  readonly floor: Floor;
  readonly modes: SlabModes;
  readonly step: ModeStep;
  /** The same for a long step, beyond the reach of the outlook. */
  readonly longStep: ModeStep;
  /** Parts of its modes in the surface now, as departures from what is below. */
  readonly partsC: Float64Array;
  /** Walls now, °C. */
  readonly wallC: number;
  /** Heard minus computed: now, and at each of the last 24 h (NaN where not known). */
  readonly residualK: Float64Array;
  /** Standard deviation of the residual over the last day, K. */
  readonly missK: number;
  readonly belief: number;
}

interface Kind {
  readonly floor: Floor;
  readonly grid: SlabGrid;
}
const CUT = { topCellM: 0.03, growth: 2, maxCellM: 0.4 };
const concrete = (thicknessM: number) => ({ ...MATERIALS.concrete2200, thicknessM });
const KINDS: readonly Kind[] = [
  { floor: "on-grade", grid: slabGrid([concrete(0.15), { ...MATERIALS.soil, thicknessM: 1.2 }], CUT) },
  { floor: "insulated", grid: slabGrid([concrete(0.14)], CUT) },
  { floor: "suspended", grid: slabGrid([concrete(0.16)], CUT) },
];
/** Below insulation: W/(m² K) of some centimetres of foam; below a suspended slab: moving air. */
const BELOW_FILM: Record<Floor, number> = { "on-grade": Number.POSITIVE_INFINITY, insulated: 0.6, suspended: 7 };

const CANDIDATES = 48;
const DRAW = {
  film: latin(10, CANDIDATES),
  radiant: latin(11, CANDIDATES),
  edge: latin(12, CANDIDATES),
  below: latin(13, CANDIDATES),
};
const drawn = (column: Float64Array, index: number) => column[index] as number;

interface Shape {
  readonly kind: Kind;
  readonly filmWPerM2K: number;
  readonly radiantShare: number;
  readonly edgeShare: number;
  readonly below: number;
  readonly modes: SlabModes;
  readonly step: ModeStep;
  readonly longStep: ModeStep;
}
/** Candidates are the same for every zone; only what they were run through differs. */
const SHAPES: readonly Shape[] = Array.from({ length: CANDIDATES }, (_, index) => {
  const kind = KINDS[index % KINDS.length] as Kind;
  const filmWPerM2K = 4.5 * (12 / 4.5) ** drawn(DRAW.film, index);
  const modes = slabModes(kind.grid, filmWPerM2K, BELOW_FILM[kind.floor]);
  return {
    kind,
    filmWPerM2K,
    radiantShare: 0.3 + 0.4 * drawn(DRAW.radiant, index),
    edgeShare: 0.25 * drawn(DRAW.edge, index) ** 2,
    below: drawn(DRAW.below, index),
    modes,
    step: modeStep(modes, STEP_MS / 1000),
    longStep: modeStep(modes, (LONG_STEPS * STEP_MS) / 1000),
  };
});

/** Straight over gaps, first and last value held; null without any value. */
export function bridged(values: Float64Array): Float64Array | null {
  const out = values.slice();
  let last = -1;
  for (let index = 0; index < out.length; index++) {
    if (Number.isNaN(out[index] as number)) continue;
    const value = out[index] as number;
    if (last < 0) out.fill(value, 0, index);
    else
      for (let gap = last + 1; gap < index; gap++)
        out[gap] = (out[last] as number) + ((value - (out[last] as number)) * (gap - last)) / (index - last);
    last = index;
  }
  if (last < 0) return null;
  out.fill(out[last] as number, last);
  return out;
}

export function firstKnown(values: Float64Array): number {
  const index = values.findIndex((value) => !Number.isNaN(value));
  return index < 0 ? values.length : index;
}

const LENGTH = PAST_STEPS + 1;
/**
 * One piece of memory for all candidates (columns.ts): what drives them, where they are run in turn, what was heard of the
 * slab with gaps bridged, and 1 where it is held against them, else 0.
 */
const COLUMNS = {
  roomC: 0,
  outC: LENGTH,
  feltC: 2 * LENGTH,
  surfaceC: 3 * LENGTH,
  heardC: 4 * LENGTH,
  counts: 5 * LENGTH,
  wallC: 6 * LENGTH,
} as const;
const DAY_BEGINS = PAST_STEPS - STEPS_PER_DAY;
/** A candidate runs so many steps before it is held against what was heard: how it began is a guess. */
const RUN_IN = 24;

/** What all candidates are driven by, at every step of the past. */
function drivenBy(slab: Float64Array, air: Float64Array, outdoorC: Float64Array | null): Float64Array {
  const memory = new Float64Array(6 * LENGTH + 1);
  memory.set(air, COLUMNS.roomC);
  memory.set(slab, COLUMNS.heardC);
  for (let step = 0; step <= PAST_STEPS; step++)
    memory[COLUMNS.outC + step] = outdoorC === null ? (air[step] as number) - 8 : (outdoorC[step] as number);
  return memory;
}

/** Runs every candidate from the first hour heard to now. `outdoorC` null = not known. */
export function fitSlab(slabC: Float64Array, airC: Float64Array, outdoorC: Float64Array | null): SlabCandidate[] {
  const slab = bridged(slabC);
  const air = bridged(airC);
  if (slab === null || air === null) return [];
  const first = Math.min(PAST_STEPS, Math.max(firstKnown(slabC), firstKnown(airC)));
  let meanC = 0;
  for (let step = first; step <= PAST_STEPS; step++) meanC += (slab[step] as number) / (PAST_STEPS + 1 - first);
  const memory = drivenBy(slab, air, outdoorC);
  let count = 0;
  for (let place = Math.max(first + RUN_IN, DAY_BEGINS); place <= PAST_STEPS; place++) {
    if (Number.isNaN(slabC[place] as number)) continue;
    memory[COLUMNS.counts + place] = 1;
    count++;
  }
  return SHAPES.map((shape) => {
    const { kind, modes, step, longStep, filmWPerM2K, radiantShare, edgeShare } = shape;
    const { grid } = kind;
    // Ground under a heated hall is colder than its slab, seldom warmer.
    const bottomC = meanC + (kind.floor === "insulated" ? -4 + 4 * shape.below : -7 + 9 * shape.below);
    const belowOutdoorK = kind.floor === "suspended" && outdoorC !== null ? 3 * shape.below : Number.NaN;
    const cellsC = new Float64Array(grid.cells);
    const startC = slab[first] as number;
    const depthM = (grid.depthM[grid.cells - 1] as number) || 1;
    const sinks = kind.floor === "on-grade" ? 1 : kind.floor === "suspended" ? 0.5 : 0.1;
    for (let cell = 0; cell < grid.cells; cell++)
      cellsC[cell] = startC + (bottomC - startC) * sinks * ((grid.depthM[cell] as number) / depthM);
    const under = { filmWPerM2K, radiantShare, edgeShare, bottomC, belowOutdoorK };
    const fromC = belowC(under);
    const partsC = partsOf(
      modes,
      cellsC.map((cellC) => cellC - fromC),
    );
    memory[COLUMNS.wallC] = air[first] as number;
    const wallTakes = STEP_H / WALL_H;
    runSlab({ modes, step, wallTakes, under, memory, columns: COLUMNS, partsC }, first, PAST_STEPS + 1);
    const residualK = new Float64Array(STEPS_PER_DAY + 1).fill(Number.NaN);
    let sum = 0;
    let squares = 0;
    for (let place = Math.max(first, DAY_BEGINS); place <= PAST_STEPS; place++) {
      const missK = (memory[COLUMNS.heardC + place] as number) - (memory[COLUMNS.surfaceC + place] as number);
      const countedK = missK * (memory[COLUMNS.counts + place] as number);
      residualK[place - DAY_BEGINS] = missK;
      sum += countedK;
      squares += countedK * missK;
    }
    const mean = count > 0 ? sum / count : 0;
    const missK = count > 0 ? Math.sqrt(Math.max(0, squares / count - mean * mean)) : 1;
    const worth = Math.min(1, count / STEPS_PER_DAY) * INDEPENDENT;
    const belief = Math.exp(-0.5 * worth * ((missK / BELIEF_K) ** 2 + 0.2 * mean * mean));
    return {
      floor: kind.floor,
      modes,
      step,
      longStep,
      ...under,
      partsC,
      wallC: memory[COLUMNS.wallC] as number,
      residualK,
      missK,
      belief,
    };
  });
}
