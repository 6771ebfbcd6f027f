// Asks the server. Every failure says whether asking again can help.
import type { AccessBody } from "#contract/access.ts";
import type { BoardBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { ProblemBody } from "#contract/problem.ts";
import type { SiteBody } from "#contract/zone.ts";
import { earlyAnswer } from "./early.ts";

/** Asks the server who is signed in, when its answers show that this may have changed; set once, by the page's services. */
export const gate = { ask: () => {} };

/** `reach`: the server did not answer, or not now: try again. `refused`: it answered no; trying again changes nothing. */
export class ApiFailure extends Error {
  readonly kind: "reach" | "refused";
  readonly status: number;
  readonly faults: readonly { readonly field: string; readonly reason: string }[];
  /** The server asks not to be asked again for so many seconds. */
  readonly waitS: number;

  constructor(
    kind: "reach" | "refused",
    status: number,
    message: string,
    faults: ApiFailure["faults"] = [],
    waitS = 0,
  ) {
    super(message);
    this.waitS = waitS;
    this.kind = kind;
    this.status = status;
    this.faults = faults;
  }
}

const ROOT = "/api/v1";
/** `CHANGE_HEADER` of the contract: shows that a change comes from this page and not from a form elsewhere. */
const CHANGES = { "x-nightslab": "1" };
const PATIENCE_MS = 15_000;

export async function ask<T>(path: string, init: RequestInit = {}): Promise<T> {
  let answer: Response;
  try {
    const early = init.method === undefined ? earlyAnswer(path) : null;
    answer = await (early ??
      fetch(ROOT + path, {
        signal: AbortSignal.timeout(PATIENCE_MS),
        ...init,
        headers: { accept: "application/json", ...init.headers },
      }));
  } catch (cause) {
    throw new ApiFailure("reach", 0, cause instanceof Error ? cause.message : "no answer");
  }
  if (answer.ok) {
    if (answer.status === 204) return null as T;
    try {
      return (await answer.json()) as T;
    } catch {
      throw new ApiFailure("reach", answer.status, "the answer was cut short");
    }
  }
  if (answer.status === 401) gate.ask();
  const problem = (await answer.json().catch(() => null)) as ProblemBody | null;
  const faults = problem?.faults ?? [];
  const said =
    faults.length > 0
      ? faults.map((fault) => `${fault.field}: ${fault.reason}`).join("; ")
      : (problem?.detail ?? problem?.title ?? `HTTP ${answer.status}`);
  // Too many requests, a time-out on the way and faults of the server itself pass; the rest is a no.
  const passes = answer.status >= 500 || answer.status === 429 || answer.status === 408;
  throw new ApiFailure(
    passes ? "reach" : "refused",
    answer.status,
    said,
    faults,
    Number(answer.headers.get("retry-after")) || 0,
  );
}

export const change = (method: "POST" | "PATCH" | "DELETE", body?: unknown): RequestInit => ({
  method,
  headers: body === undefined ? CHANGES : { ...CHANGES, "content-type": "application/json" },
  ...(body === undefined ? {} : { body: JSON.stringify(body) }),
});
const at = (site: string) => `/sites/${encodeURIComponent(site)}`;

export const api = {
  root: ROOT,
  access: () => ask<AccessBody>("/access"),
  sites: () => ask<readonly SiteBody[]>("/sites"),
  board: (site: string) => ask<BoardBody>(`${at(site)}/board`),
  addEntry: (site: string, entry: EntryBody) => ask<EntryBody>(`${at(site)}/journal`, change("POST", entry)),
};
