// One night with its cases: what each fault changed, whether it was told, and the alarms of the night without any.
import { truthOf } from "../study/fit.ts";
import { truthAt } from "../study/moment.ts";
import { SHED_ZONE } from "../scenario/shed.ts";
import type { StudyNight } from "../study/sample.ts";
import { type CasePlan, casesOf, type InjectedCase } from "./cases.ts";
import { anotherCanJudge, isRight, wentUnwatched } from "./faults.ts";
import { type Look, looksOf } from "./look.ts";
import { playTwins } from "./twins.ts";

const HOUR_MS = 3_600_000;
/** When it is looked whether a fault is told, hours after its start. */
export const TOLD_AT_H = [0.25, 0.5, 1, 2, 4, 8, 16, 24] as const;

export interface TwinMoment {
  readonly askMs: number;
  /** The fault is at work; else it is over and lies in the readings. */
  readonly atWork: boolean;
  /** A slab probe and a chip that the fault does not touch are there; after the fault, all are. */
  readonly another: boolean;
  /** For longer than readings are held there was neither, earlier in the fault. */
  readonly unwatched: boolean;
  readonly clean: string;
  readonly cleanLimiting: string | null;
  readonly faulty: string;
  readonly faultyLimiting: string | null;
  readonly comfortable: boolean;
  readonly fit: boolean;
  /** Why a pour now would be false beyond dispute. */
  readonly hard: readonly string[];
  readonly soft: boolean;
  /** Faulty minus clean; null where one of the two knows none. */
  readonly marginK: number | null;
  readonly slabColdK: number | null;
}

export interface Told {
  readonly afterH: number;
  /** By its own doubt, or because a voice was missed, or because the zone was stopped for its data. */
  readonly by: "doubt" | "voice" | "stop";
}

export interface CaseOutcome {
  readonly night: number;
  readonly title: string;
  readonly index: number;
  readonly labels: readonly string[];
  readonly kinds: readonly string[];
  readonly on: readonly string[];
  readonly fromMs: number;
  readonly toMs: number;
  readonly told: Told | null;
  readonly moments: readonly TwinMoment[];
}

export interface NightOutcome {
  readonly night: number;
  readonly seed: number;
  readonly probes: number;
  /** Doubts of the night without a fault, each probe and kind once. */
  readonly alarms: readonly { readonly probe: string; readonly kind: string }[];
  readonly looks: number;
  readonly cases: readonly CaseOutcome[];
}

function toldBy(injected: InjectedCase["injected"], faulty: Look, clean: () => Look): Told["by"] | null {
  if (injected.some((each) => faulty.doubts.some((doubt) => isRight(doubt, each)))) return "doubt";
  if (faulty.voices < faulty.probes && faulty.voices < clean().voices) return "voice";
  const stop = faulty.blocked.find((rule) => !clean().blocked.includes(rule));
  return stop === undefined ? null : "stop";
}

function toldOf(each: InjectedCase, lastMs: number, faulty: (atMs: number) => Look, clean: (atMs: number) => Look) {
  for (const afterH of TOLD_AT_H) {
    const atMs = each.fromMs + afterH * HOUR_MS;
    if (atMs > Math.min(each.toMs, lastMs)) return null;
    const by = toldBy(each.injected, faulty(atMs), () => clean(atMs));
    if (by !== null) return { afterH, by };
  }
  return null;
}

const minus = (a: number | null, b: number | null) => (a === null || b === null ? null : a - b);

/** Where a fault sits, for whoever replays it. */
function placeOf({ node, fault }: InjectedCase["injected"][number]): string {
  return "quantity" in fault ? `${node}/${fault.quantity}` : node;
}

/** Plays a night with all its cases and looks at each. */
export function injectInto(night: StudyNight, plan: CasePlan): NightOutcome {
  const { scenario } = night;
  const cases = casesOf(night, plan);
  const twins = playTwins(
    night,
    cases.map(({ nodes }) => nodes),
  );
  const truth = truthOf(scenario, twins.course, night.feeds.length > 0);
  const clean = looksOf(twins.logOf(scenario.nodes));
  const lastMs = Math.max(...night.asksMs);
  const floor = scenario.nodes.filter(({ body }) => body.zone === SHED_ZONE);
  const alarms = new Map<string, { readonly probe: string; readonly kind: string }>();
  let probes = 0;
  for (const atMs of night.asksMs) {
    const look = clean(atMs);
    probes = Math.max(probes, look.probes);
    for (const { probe, kind } of look.doubts) alarms.set(`${probe} ${kind}`, { probe, kind });
  }
  const outcomes = cases.map((each, index): CaseOutcome => {
    const faulty = looksOf(twins.logOf(each.nodes, each.journal));
    const moments = each.asksMs.map((askMs): TwinMoment => {
      const [was, is] = [clean(askMs), faulty(askMs)];
      const { comfortable, fit, hard, soft } = truthAt(truth, askMs);
      return {
        askMs,
        atWork: askMs < each.toMs,
        another: anotherCanJudge(floor, each.injected, askMs),
        unwatched: wentUnwatched(floor, each.injected, askMs),
        clean: was.called().call,
        cleanLimiting: was.called().limiting,
        faulty: is.called().call,
        faultyLimiting: is.called().limiting,
        comfortable,
        fit,
        hard,
        soft,
        marginK: minus(is.marginK, was.marginK),
        slabColdK: minus(is.slabColdC, was.slabColdC),
      };
    });
    return {
      night: night.index,
      title: scenario.title,
      index,
      labels: each.injected.map(({ label }) => label),
      kinds: each.injected.map(({ kind }) => kind),
      on: each.injected.map(placeOf),
      fromMs: each.fromMs,
      toMs: each.toMs,
      told: toldOf(each, lastMs, faulty, clean),
      moments,
    };
  });
  return {
    night: night.index,
    seed: scenario.seed,
    probes,
    alarms: [...alarms.values()],
    looks: night.asksMs.length,
    cases: outcomes,
  };
}
