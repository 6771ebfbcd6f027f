// The two plain rules a call is measured beside: present readings only, and the same hours of yesterday.
import type { Call } from "#core/judge/call.ts";
import type { PlainLog } from "#core/zone/site.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { dewPointOfC } from "../building/weather.ts";
import { SHED_ZONE } from "../scenario/shed.ts";
import { hoursOf } from "../night/clocks.ts";

const HOUR_MS = 3_600_000;
const DAY_MS = 24 * HOUR_MS;

/** Rules that look ahead or back; the baselines do without them. */
const NOT_PRESENT: readonly string[] = ["night-unknown", "night-dew", "night-cold", "not-sustained"];
/** Rules of the present that a night must keep. */
const OF_NIGHT: readonly string[] = ["data-missing", "data-stale", "condensing", "frost", "dew-margin", "slab-cold"];

export interface Measured {
  readonly atMs: number;
  readonly heardMs: number;
  readonly marginK: number;
  readonly coldC: number;
}

/** Margin at each round of the floor's nodes: coldest probe minus dew point of that node's chip. */
export function measuredMargins(log: PlainLog): readonly Measured[] {
  const out: Measured[] = [];
  for (const node of log.nodes.filter(({ zone }) => zone === SHED_ZONE)) {
    const of = (quantity: string) => log.series.find((each) => each.node === node.id && each.quantity === quantity);
    const [air, rh] = [of("air"), of("rh")];
    if (air === undefined || rh === undefined) continue;
    const slabs = log.series.filter((each) => each.node === node.id && each.quantity.startsWith("slab"));
    const byTime = slabs.map((each) => new Map(each.atMs.map((atMs, i) => [atMs, each.values[i] as number])));
    const damp = new Map(rh.atMs.map((atMs, i) => [atMs, rh.values[i] as number]));
    for (const [i, atMs] of air.atMs.entries()) {
      const coldC = Math.min(...byTime.map((values) => values.get(atMs) ?? Number.POSITIVE_INFINITY));
      const rhPct = damp.get(atMs);
      if (!Number.isFinite(coldC) || rhPct === undefined) continue;
      const marginK = coldC - dewPointOfC(air.values[i] as number, Math.max(1, rhPct));
      out.push({ atMs, heardMs: air.heardMs[i] as number, marginK, coldC });
    }
  }
  return out.sort((a, b) => a.atMs - b.atMs);
}

export interface Baselines {
  /** Would pour: every rule of the present passes; and yesterday's same hours keep the margin limit as well. */
  readonly present: boolean;
  readonly yesterday: boolean;
  /** What each takes the night for, by margin and least slab temperature alone. */
  readonly presentHolds: boolean;
  readonly yesterdayHolds: boolean;
}

export function baselinesOf(call: Call, sheet: SheetBody, pourH: number, measured: readonly Measured[]): Baselines {
  const stops = call.rules.filter(({ outcome }) => outcome === "stop").map(({ rule }) => rule);
  const present = call.call !== "finished" && stops.every((rule) => NOT_PRESENT.includes(rule));
  const presentHolds = !stops.some((rule) => OF_NIGHT.includes(rule)) && call.conditions.marginK !== null;
  const { slabColdC } = call.conditions;
  const nightH = slabColdC === null ? Number.POSITIVE_INFINITY : pourH + hoursOf(sheet, "dewSafeH")(slabColdC);
  const fromMs = call.atMs - DAY_MS;
  const toMs = Math.min(call.atMs, fromMs + nightH * HOUR_MS);
  const hours = measured.filter(({ atMs, heardMs }) => atMs >= fromMs && atMs <= toMs && heardMs <= call.atMs);
  const whole = (hours[0]?.atMs ?? Number.POSITIVE_INFINITY) <= fromMs + HOUR_MS / 2;
  const leastC = sheet.limits.slabC[0] ?? Number.NEGATIVE_INFINITY;
  const keeps = whole && hours.every(({ marginK, coldC }) => marginK >= sheet.limits.dewMarginK && coldC >= leastC);
  return { present, yesterday: present && keeps, presentHolds, yesterdayHolds: presentHolds && keeps };
}
