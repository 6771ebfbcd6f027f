// What is injected into a night: each kind of fault alone, and some pairs, so that all pairs come up over the nights.
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { SimNode } from "../node/spec.ts";
import { uniform } from "../random.ts";
import { SHED_NODE, SHED_ZONE } from "../scenario/shed.ts";
import { type Draw, drawOf } from "../study/draw.ts";
import { sampleNight, type StudyNight, type Year } from "../study/sample.ts";
import { INJECTED_KINDS, type Injected, injectedFault, type InjectedKind, spanOf } from "./faults.ts";

const HOUR_MS = 3_600_000;
/** What a fault leaves in the readings is judged so long after its end as well. */
const AFTER_MS = 12 * HOUR_MS;

/** One fault, or two at once, on one night. */
export interface InjectedCase {
  readonly injected: readonly Injected[];
  readonly nodes: readonly SimNode[];
  /** What the crew wrote down because of it. */
  readonly journal: readonly EntryBody[];
  readonly fromMs: number;
  readonly toMs: number;
  readonly asksMs: readonly number[];
}

export interface CasePlan {
  readonly seed: number;
  readonly nights: number;
  /** Moments judged in each case. */
  readonly asks: number;
  /** Pairs injected into each night. */
  readonly pairs: number;
}

/** All pairs of different kinds, shuffled by seed. */
export function pairsOf(seed: number): readonly (readonly [InjectedKind, InjectedKind])[] {
  const all = INJECTED_KINDS.flatMap((a, index) => INJECTED_KINDS.slice(index + 1).map((b) => [a, b] as const));
  const place = ([a, b]: (typeof all)[number]) => uniform(seed, `pair/${a}/${b}`);
  return all.sort((one, other) => place(one) - place(other));
}

/** Enough pairs a night that each comes up at least once, and two where nights are many. */
export const pairsANight = (nights: number) => Math.max(2, Math.ceil(pairsOf(0).length / nights));

/** A sampled night without faults; on every other site a second slab probe lies beside the first. */
export function cleanNight(years: readonly Year[], seed: number, index: number): StudyNight {
  const night = sampleNight(years, seed, index, false);
  if (!drawOf(night.scenario.seed).chance("inject/beside", 0.5)) return night;
  const nodes = night.scenario.nodes.map(
    (node): SimNode =>
      node.body.id === SHED_NODE
        ? {
            ...node,
            slabs: { ...node.slabs, "slab.3": "middle" },
            body: {
              ...node.body,
              probes: { ...node.body.probes, "slab.3": { place: "middle, beside the first", xM: 5.4, yM: 4 } },
            },
          }
        : node,
  );
  return { ...night, scenario: { ...night.scenario, nodes } };
}

function asksOf(draw: Draw, name: string, night: StudyNight, fromMs: number, toMs: number, count: number) {
  return night.asksMs
    .filter((atMs) => atMs >= fromMs && atMs <= toMs + AFTER_MS)
    .map((atMs) => ({ atMs, place: draw.u(`${name}/ask-${night.asksMs.indexOf(atMs)}`) }))
    .sort((a, b) => a.place - b.place)
    .slice(0, count)
    .map(({ atMs }) => atMs)
    .sort((a, b) => a - b);
}

/** A wipe with solvent. Not on a floor that was never cleaned: it must not settle its dust. */
function wipedAt({ scenario }: StudyNight, atMs: number): readonly EntryBody[] {
  if (!scenario.journal.some(({ did }) => did === "cleaned")) return [];
  return [{ at: isoFromMs(atMs), zone: SHED_ZONE, did: "cleaned", solvent: true, confirmed: true }];
}

function caseOf(
  draw: Draw,
  night: StudyNight,
  name: string,
  injected: readonly Injected[],
  asks: number,
): InjectedCase {
  const fromMs = Math.min(...injected.map(({ fault }) => fault.fromMs));
  const toMs = Math.max(...injected.map(({ fault }) => fault.toMs));
  const nodes = night.scenario.nodes.map((node) => {
    const faults = injected.filter((each) => each.node === node.body.id).map(({ fault }) => fault);
    return faults.length === 0 ? node : { ...node, faults };
  });
  const journal = injected.flatMap(({ onRecord, fault }) => (onRecord ? wipedAt(night, fault.fromMs) : []));
  return { injected, nodes, journal, fromMs, toMs, asksMs: asksOf(draw, name, night, fromMs, toMs, asks) };
}

/** The cases of a night: first each kind alone, then its pairs. The same arguments always give the same cases. */
export function casesOf(night: StudyNight, plan: CasePlan): readonly InjectedCase[] {
  const draw = drawOf(night.scenario.seed);
  const floor = night.scenario.nodes.filter(({ body }) => body.zone === SHED_ZONE);
  const [first] = floor;
  const another = floor.length > 1;
  if (first === undefined) throw new RangeError(`${night.scenario.id} has no node on its floor`);
  const fourteenMs = night.scenario.openedAtMs;
  const singles = INJECTED_KINDS.map((kind) => {
    const name = `inject/${kind}`;
    return caseOf(
      draw,
      night,
      name,
      [injectedFault(draw, kind, { name, node: first, another, ...spanOf(draw, name, fourteenMs) })],
      plan.asks,
    );
  });
  const all = pairsOf(plan.seed);
  const pairs = Array.from({ length: plan.pairs }, (_, i) => all[(night.index * plan.pairs + i) % all.length]).flatMap(
    (pair, i) => {
      if (pair === undefined) return [];
      const name = `inject/pair-${i}/${pair.join("+")}`;
      const span = spanOf(draw, name, fourteenMs);
      const one = injectedFault(draw, pair[0], { name: `${name}/0`, node: first, another, ...span });
      // The second begins while the first is at work, on the same node or on the other one.
      const fromMs = span.fromMs + draw.u(`${name}/second`) * 0.5 * (span.toMs - span.fromMs);
      const toMs = fromMs + 2 * 16 ** draw.u(`${name}/second-long`) * HOUR_MS;
      const node = draw.chance(`${name}/other`, 0.5) ? (floor[1] ?? first) : first;
      const two = injectedFault(draw, pair[1], { name: `${name}/1`, node, another, fromMs, toMs });
      return [caseOf(draw, night, name, [one, two], plan.asks)];
    },
  );
  return [...singles, ...pairs];
}
