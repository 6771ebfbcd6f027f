// Readings of any age: what is kept here in full from here, what is older from InfluxDB; and said, if that does not answer.
import type { Series } from "#core/zone/site.ts";
import { OutOfReach } from "./influx-query.ts";
import type { FarReadings } from "./influx-readings.ts";
import type { Bucket, ReadingStore } from "./ports.ts";

export interface Reached<T> {
  readonly value: T;
  /** Why readings taken before `localFromMs` may be missing; null if none are. */
  readonly outOfReach: string | null;
}

export interface Reach {
  /** Readings taken at this time or later are all kept here; older ones may have been thinned or deleted. */
  localFromMs(): number;
  range(site: string, node: string, quantity: string, fromMs: number, toMs: number): Promise<Reached<Series>>;
  buckets(
    site: string,
    node: string,
    quantity: string,
    fromMs: number,
    stepMs: number,
    points: number,
  ): Promise<Reached<Bucket[]>>;
}

async function orElse<T>(asked: Promise<T>, local: () => T): Promise<Reached<T>> {
  try {
    return { value: await asked, outOfReach: null };
  } catch (error) {
    if (!(error instanceof OutOfReach)) throw error;
    return { value: local(), outOfReach: error.message };
  }
}

/** `far`: null when there is no InfluxDB; everything that there is, is here then. */
export function createReach(local: ReadingStore, far: FarReadings | null, localFromMs: () => number): Reach {
  return {
    localFromMs,
    async range(site, node, quantity, fromMs, toMs) {
      const borderMs = localFromMs();
      const here = (sinceMs: number) => local.range(site, node, quantity, sinceMs, toMs);
      if (far === null || fromMs >= borderMs) return { value: here(fromMs), outOfReach: null };
      const lastMs = Math.min(toMs, borderMs - 1);
      const old = await orElse(far.range(site, node, quantity, fromMs, lastMs), () =>
        local.range(site, node, quantity, fromMs, lastMs),
      );
      const young = toMs < borderMs ? null : here(borderMs);
      const value = {
        node,
        quantity,
        atMs: [...old.value.atMs, ...(young?.atMs ?? [])],
        values: [...old.value.values, ...(young?.values ?? [])],
        heardMs: [...old.value.heardMs, ...(young?.heardMs ?? [])],
      };
      return { value, outOfReach: old.outOfReach };
    },
    async buckets(site, node, quantity, fromMs, stepMs, points) {
      const borderMs = localFromMs();
      const here = (first: number, count: number) =>
        count <= 0 ? [] : local.buckets(site, node, quantity, fromMs + first * stepMs, stepMs, count);
      // The step in which the border lies is asked for over there: here it would be half a step.
      const oldCount = far === null ? 0 : Math.max(0, Math.min(points, Math.ceil((borderMs - fromMs) / stepMs)));
      if (far === null || oldCount === 0) return { value: here(0, points), outOfReach: null };
      const old = await orElse(far.buckets(site, node, quantity, fromMs, stepMs, oldCount), () => here(0, oldCount));
      return { value: [...old.value, ...here(oldCount, points - oldCount)], outOfReach: old.outOfReach };
    },
  };
}
