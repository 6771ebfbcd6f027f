// The desk's charts: what was heard, in equal steps, and the conditions of the zone on the same steps.
import type { SeriesBody } from "#contract/board.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { dewPointC } from "#core/air/dew-point.ts";
import { type ConditionsHistory, conditionsHistory } from "#core/zone/history.ts";
import { type Answer, good } from "./answer.ts";
import type { LiveSite } from "./live-site.ts";
import { type Found, type Office, zoneOf } from "./office.ts";
import type { Bucket } from "./ports.ts";
import type { Reached } from "./ports-reach.ts";

/** Within this the judge's own view of the past is shown; before it, what was heard, without its trust in sensors. */
const JUDGED_MS = 50 * 3_600_000;
const SHOWN = /^(slab|air|rh|dew|door)/;
const COLUMNS = ["slabColdC", "slabHotC", "airC", "rhPct", "dewPointC", "marginK"] as const;

type Column = (typeof COLUMNS)[number];
type Conditions = Record<Column, (number | null)[]>;
type Heard = ReadonlyMap<string, readonly Bucket[]>;

const rounded = (value: number | null): number | null => (value === null ? null : Math.round(value * 100) / 100);
const least = (values: readonly number[]): number | null => (values.length === 0 ? null : Math.min(...values));
const most = (values: readonly number[]): number | null => (values.length === 0 ? null : Math.max(...values));

function dewPointOf(air: number | null, rh: number | null): number[] {
  if (air === null || rh === null || !(rh > 0)) return [];
  try {
    return [dewPointC(air, Math.min(rh, 100))];
  } catch (error) {
    // Out of the range of the formula: no dew point rather than a wrong one.
    if (error instanceof RangeError) return [];
    throw error;
  }
}

/** The worst spot of any step, from what was heard in it. */
function worstOf(heard: Heard, nodes: readonly string[]): (step: number) => Record<Column, number | null> {
  const named = (pattern: RegExp) => [...heard].flatMap(([name, buckets]) => (pattern.test(name) ? [buckets] : []));
  const [slabs, airs, humidities] = [named(/\/slab/), named(/\/air$/), named(/\/rh$/)];
  const pairs = nodes.map((node) => [heard.get(`${node}/air`), heard.get(`${node}/rh`)] as const);
  return (step) => {
    const said = (series: readonly (readonly Bucket[])[], key: keyof Bucket) =>
      series.flatMap((buckets) => buckets[step]?.[key] ?? []);
    const slabColdC = least(said(slabs, "min"));
    const dew = most(pairs.flatMap(([air, rh]) => dewPointOf(air?.[step]?.mean ?? null, rh?.[step]?.mean ?? null)));
    return {
      slabColdC,
      slabHotC: most(said(slabs, "max")),
      airC: least(said(airs, "mean")),
      rhPct: most(said(humidities, "mean")),
      dewPointC: dew,
      marginK: slabColdC === null || dew === null ? null : slabColdC - dew,
    };
  };
}

function judgedPast(
  site: LiveSite,
  zone: string,
  fromMs: number,
  toMs: number,
  stepMs: number,
  nowMs: number,
): ConditionsHistory | null {
  if (toMs < fromMs) return null;
  try {
    return conditionsHistory(site.log, zone, fromMs, toMs, stepMs, nowMs);
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

interface HeardSeries {
  readonly heard: Heard;
  readonly nodes: readonly string[];
  /** Why older readings may be missing; null if none are. */
  readonly outOfReach: string | null;
}

async function heardSeries(
  office: Office,
  { site, zone }: Found,
  fromMs: number,
  stepMs: number,
  points: number,
): Promise<HeardSeries> {
  const nodes = site.nodesOf(zone.id, office.moments.now()).map(({ id }) => id);
  const asked: Promise<readonly [name: string, reached: Reached]>[] = [];
  for (const node of nodes) {
    for (const { quantity } of site.seriesOf(node)) {
      const name = `${node}/${quantity}`;
      if (!SHOWN.test(quantity) || (zone.probes !== null && quantity.startsWith("slab") && !zone.probes.includes(name)))
        continue;
      const reached = office.reach.buckets(site.id, node, quantity, fromMs, stepMs, points);
      asked.push(reached.then((one) => [name, one]));
    }
  }
  const all = await Promise.all(asked);
  return {
    heard: new Map(all.map(([name, { value }]) => [name, value])),
    nodes,
    outOfReach: all.map(([, one]) => one.outOfReach).find((one) => one !== null) ?? null,
  };
}

export function createChartDesk(office: Office) {
  return {
    async series(
      siteId: string,
      zoneId: string,
      fromMs: number,
      toMs: number,
      wanted: number,
    ): Promise<Answer<SeriesBody>> {
      const found = zoneOf(office, siteId, zoneId);
      if (!found.ok) return found;
      const nowMs = office.moments.now();
      const stepMs = Math.max(1000, Math.ceil((toMs - fromMs) / wanted));
      const points = Math.ceil((toMs - fromMs) / stepMs);
      const { heard, nodes, outOfReach } = await heardSeries(office, found.value, fromMs, stepMs, points);

      const conditions: Conditions = { slabColdC: [], slabHotC: [], airC: [], rhPct: [], dewPointC: [], marginK: [] };
      const firstJudged = Math.max(0, Math.ceil((nowMs - JUDGED_MS - fromMs) / stepMs));
      const judgedFromMs = fromMs + firstJudged * stepMs;
      const past = judgedPast(found.value.site, zoneId, judgedFromMs, Math.min(toMs, nowMs), stepMs, nowMs);
      const worstAt = worstOf(heard, nodes);
      for (let step = 0; step < points; step++) {
        const worst = step < firstJudged || past === null ? worstAt(step) : null;
        for (const column of COLUMNS)
          conditions[column].push(
            rounded(worst === null ? (past?.[column][step - firstJudged] ?? null) : worst[column]),
          );
      }
      const series = Object.fromEntries(
        [...heard].map(([name, buckets]) => [
          name,
          buckets.map(({ min, mean, max }) => ({ min: rounded(min), mean: rounded(mean), max: rounded(max) })),
        ]),
      );
      return good({
        ...{ from: isoFromMs(fromMs), to: isoFromMs(toMs), stepS: stepMs / 1000, series, conditions },
        ...(outOfReach === null
          ? {}
          : { outOfReach: { before: isoFromMs(office.reach.localFromMs()), why: outOfReach } }),
      });
    },
  };
}
