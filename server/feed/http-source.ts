// Asks a weather feed over HTTP: with a deadline, a limit, few redirects, and the question whether anything is new.
import { type Fault, fail } from "#contract/faults.ts";

export interface Question {
  readonly url: string;
  readonly headers: Readonly<Record<string, string>>;
  /** What the last answer said of itself. */
  readonly etag: string | null;
  readonly lastModified: string | null;
}

export type SourceAnswer =
  | { readonly kind: "text"; readonly text: string; readonly etag: string | null; readonly lastModified: string | null }
  | { readonly kind: "same" }
  | { readonly kind: "failed"; readonly faults: readonly Fault[]; readonly retryAfterMs: number | null };

export interface SourceLimits {
  readonly timeoutMs: number;
  readonly maxBytes: number;
}

export const SOURCE_LIMITS: SourceLimits = { timeoutMs: 15_000, maxBytes: 2 * 1024 * 1024 };
const MOST_REDIRECTS = 5;
const REDIRECTS = [301, 302, 303, 307, 308];
const FIELD = "/source/url";

export function failed(reason: string, retryAfterMs: number | null = null, field = FIELD): SourceAnswer {
  return { kind: "failed", faults: fail(field, reason).faults, retryAfterMs };
}

/** Seconds, or a date; null if it is neither. */
function retryAfterMs(header: string | null, nowMs: number): number | null {
  if (header === null) return null;
  if (/^\d{1,9}$/.test(header.trim())) return Number(header) * 1000;
  const atMs = Date.parse(header);
  return Number.isNaN(atMs) ? null : Math.max(0, atMs - nowMs);
}

/** The body as text, or null when it is larger than the limit, whatever its head says. */
async function textWithin(response: Response, maxBytes: number): Promise<string | null> {
  const decoder = new TextDecoder();
  let bytes = 0;
  let text = "";
  for await (const chunk of (response.body ?? []) as AsyncIterable<Uint8Array>) {
    bytes += chunk.byteLength;
    if (bytes > maxBytes) {
      await response.body?.cancel().catch(() => undefined);
      return null;
    }
    text += decoder.decode(chunk, { stream: true });
  }
  return text + decoder.decode();
}

/** Why there was no answer, without the address: it may carry a secret. */
function whyNot(error: unknown, timeoutMs: number): string {
  if (error instanceof Error && error.name === "TimeoutError") return `gave no answer within ${timeoutMs / 1000} s`;
  const cause = error instanceof Error ? (error.cause as { code?: unknown } | undefined) : undefined;
  const code = typeof cause?.code === "string" ? ` (${cause.code})` : "";
  return `cannot be reached${code}`;
}

async function follow(question: Question, { maxBytes }: SourceLimits, signal: AbortSignal): Promise<SourceAnswer> {
  let url = new URL(question.url);
  const { origin } = url;
  for (let hop = 0; hop <= MOST_REDIRECTS; hop++) {
    // A secret is for whom it was given; to another place it does not go along.
    const own = url.origin === origin ? question.headers : {};
    const response = await fetch(url, {
      redirect: "manual",
      signal,
      headers: {
        accept: "application/json",
        "user-agent": "nightslab",
        ...own,
        ...(question.etag === null ? {} : { "if-none-match": question.etag }),
        ...(question.lastModified === null ? {} : { "if-modified-since": question.lastModified }),
      },
    });
    if (!REDIRECTS.includes(response.status)) {
      if (response.ok) {
        const text = await textWithin(response, maxBytes);
        if (text === null) return failed(`says more than ${maxBytes / 1024 / 1024} MiB`);
        const { headers } = response;
        return { kind: "text", text, etag: headers.get("etag"), lastModified: headers.get("last-modified") };
      }
      await response.body?.cancel();
      if (response.status === 304) return { kind: "same" };
      const wait = retryAfterMs(response.headers.get("retry-after"), Date.now());
      return failed(`answered ${response.status} instead of the hours`, wait);
    }
    await response.body?.cancel();
    const to = response.headers.get("location");
    if (to === null || !URL.canParse(to, url.href)) return failed(`answered ${response.status} and leads nowhere`);
    url = new URL(to, url);
    if (url.protocol !== "http:" && url.protocol !== "https:")
      return failed(`leads to ${url.protocol}, which is not asked`);
    if (new URL(question.url).protocol === "https:" && url.protocol === "http:")
      return failed("leads from https to http, which is not followed");
  }
  return failed(`leads on and on: more than ${MOST_REDIRECTS} redirects`);
}

/** Never throws: whatever goes wrong is an answer with its reason. `closing` cuts it off. */
export async function askHttp(question: Question, limits: SourceLimits, closing: AbortSignal): Promise<SourceAnswer> {
  if (!URL.canParse(question.url)) return failed("is not an address");
  const deadline = AbortSignal.timeout(limits.timeoutMs);
  try {
    return await follow(question, limits, AbortSignal.any([deadline, closing]));
  } catch (error) {
    if (closing.aborted) return failed("was not asked to the end: the server stops");
    return failed(whyNot(deadline.aborted ? deadline.reason : error, limits.timeoutMs));
  }
}
