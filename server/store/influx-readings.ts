// Readings as InfluxDB holds them, asked for in the words of a reading store.
import type { Series } from "#core/zone/site.ts";
import { READING } from "./influx-lines.ts";
import { type AskInflux, type Cell, quoted, timeMs } from "./influx-query.ts";
import type { Bucket, HeardReading, ReadingStore } from "./ports.ts";

/** The reading half of a store that answers later. */
export type FarReadings = {
  readonly [Key in Exclude<keyof ReadingStore, "append">]: (
    ...asked: Parameters<ReadingStore[Key]>
  ) => Promise<ReturnType<ReadingStore[Key]>>;
};

/** Rows of one answer; a longer stretch is asked for in parts, so that no answer is larger than some megabytes. */
const PAGE = 20_000;

const EMPTY: Bucket = { min: null, mean: null, max: null };
const number = (cell: Cell | undefined) => cell as number;
const byName = (a: HeardReading, b: HeardReading) => {
  const [one, other] = [`${a.node}\u0000${a.quantity}`, `${b.node}\u0000${b.quantity}`];
  return one < other ? -1 : one > other ? 1 : 0;
};

export function createInfluxReadings(ask: AskInflux, page = PAGE): FarReadings {
  const of = (site: string, node: string, quantity: string) =>
    `FROM "${READING}" WHERE "site" = ${quoted(site)} AND "node" = ${quoted(node)} AND "quantity" = ${quoted(quantity)}`;

  async function* pages(site: string, node: string, quantity: string, fromMs: number, toMs: number) {
    for (let nextMs = fromMs; ; ) {
      const where = `${of(site, node, quantity)} AND time >= ${timeMs(nextMs)} AND time <= ${timeMs(toMs)}`;
      const [rows] = await ask(`SELECT "value", "heard_ms" ${where} ORDER BY time ASC LIMIT ${page}`);
      const values = rows?.values ?? [];
      yield values;
      if (values.length < page) return;
      nextMs = number(values.at(-1)?.[0]) + 1;
    }
  }
  return {
    async range(site, node, quantity, fromMs, toMs): Promise<Series> {
      const [atMs, values, heardMs]: [number[], number[], number[]] = [[], [], []];
      for await (const rows of pages(site, node, quantity, fromMs, toMs)) {
        for (const [at, value, heard] of rows) {
          atMs.push(number(at));
          values.push(number(value));
          heardMs.push(number(heard));
        }
      }
      return { node, quantity, atMs, values, heardMs };
    },
    async lastBefore(site, node, quantity, beforeMs, heardByMs) {
      const where = `${of(site, node, quantity)} AND time < ${timeMs(beforeMs)} AND "heard_ms" <= ${heardByMs}`;
      const [rows] = await ask(`SELECT "value", "heard_ms" ${where} ORDER BY time DESC LIMIT 1`);
      const row = rows?.values[0];
      if (row === undefined) return null;
      return { site, node, quantity, atMs: number(row[0]), value: number(row[1]), heardMs: number(row[2]) };
    },
    async latest(site) {
      const where = `FROM "${READING}" WHERE "site" = ${quoted(site)} GROUP BY "node", "quantity"`;
      const series = await ask(`SELECT last("value"), "heard_ms" ${where}`);
      const newest = series.flatMap(({ tags: { node = "", quantity = "" }, values: [row] }): HeardReading[] =>
        row === undefined
          ? []
          : [{ site, node, quantity, atMs: number(row[0]), value: number(row[1]), heardMs: number(row[2]) }],
      );
      return newest.sort(byName);
    },
    async buckets(site, node, quantity, fromMs, stepMs, points) {
      const toMs = fromMs + stepMs * points;
      const where = `${of(site, node, quantity)} AND time >= ${timeMs(fromMs)} AND time < ${timeMs(toMs)}`;
      const steps = `GROUP BY time(${stepMs}ms, ${((fromMs % stepMs) + stepMs) % stepMs}ms) fill(none)`;
      const [rows] = await ask(`SELECT min("value"), mean("value"), max("value") ${where} ${steps}`);
      const buckets = Array.from({ length: points }, () => EMPTY);
      for (const [at, min, mean, max] of rows?.values ?? []) {
        buckets[Math.round((number(at) - fromMs) / stepMs)] = {
          min: number(min),
          mean: number(mean),
          max: number(max),
        };
      }
      return buckets;
    },
  };
}
