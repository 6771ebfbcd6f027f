// Questions to InfluxDB in InfluxQL over `/query`, which its three generations answer alike.
import { authorization, type InfluxTarget, queryUrl } from "./influx-target.ts";

export type Cell = string | number | boolean | null;

/** Rows of one series of an answer, with the tags that it was grouped by. */
export interface Rows {
  readonly tags: Readonly<Record<string, string>>;
  readonly values: readonly (readonly Cell[])[];
}

/** InfluxDB did not answer, or not with rows. */
export class OutOfReach extends Error {}

export type AskInflux = (query: string) => Promise<readonly Rows[]>;

interface AnswerBody {
  readonly error?: string;
  readonly results?: readonly {
    readonly error?: string;
    readonly series?: readonly { readonly tags?: Record<string, string>; readonly values?: readonly Cell[][] }[];
  }[];
}

/** A text within a query. */
export function quoted(text: string): string {
  return `'${text.replace(/[\\']/g, (sign) => `\\${sign}`)}'`;
}

/** Times are counted in nanoseconds of 64 bits there: years 1677 to 2262. */
const FARTHEST_MS = 9_223_372_036_000;
export function timeMs(ms: number): string {
  return `${Math.max(-FARTHEST_MS, Math.min(FARTHEST_MS, Math.floor(ms)))}ms`;
}

/** After a failure nothing is asked for this long: a chart of ten series must not wait ten times. */
const SPARE_MS = 10_000;

/** `timeoutMs`: for one question, its answer included. Rejects with `OutOfReach` and nothing else. */
export function createInfluxQuery(target: InfluxTarget, timeoutMs: number, steadyMs: () => number): AskInflux {
  const url = queryUrl(target);
  let failed: { readonly untilMs: number; readonly reason: string } | null = null;

  const ask = async (query: string): Promise<readonly Rows[]> => {
    const answer = await fetch(url, {
      method: "POST",
      headers: authorization(target),
      body: new URLSearchParams({ q: query }),
      signal: AbortSignal.timeout(timeoutMs),
    });
    const text = await answer.text();
    if (!answer.ok) throw new Error(`${answer.status}: ${text.trim().slice(0, 200)}`);
    const { error, results = [] } = JSON.parse(text) as AnswerBody;
    const [result] = results;
    const said = error ?? result?.error;
    if (said !== undefined) throw new Error(said);
    return (result?.series ?? []).map(({ tags = {}, values = [] }) => ({ tags, values }));
  };
  return async (query) => {
    if (failed !== null && steadyMs() < failed.untilMs) throw new OutOfReach(failed.reason);
    try {
      const rows = await ask(query);
      failed = null;
      return rows;
    } catch (error) {
      const { message, cause, name } = error as Error;
      const reason = name === "TimeoutError" ? `no answer within ${timeoutMs / 1000} s` : message;
      const why =
        cause instanceof Error
          ? `${reason}: ${cause.message || String((cause as NodeJS.ErrnoException).code)}`
          : reason;
      failed = { untilMs: steadyMs() + SPARE_MS, reason: why };
      throw new OutOfReach(why);
    }
  };
}
