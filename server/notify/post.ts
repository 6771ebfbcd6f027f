// One POST to an address outside, and what its answer means for another try.
import type { Sent } from "./ports.ts";

export const PATIENCE_MS = 10_000;
const LONGEST_WAIT_MS = 3_600_000;

/** Seconds or a date (RFC 9110, 10.2.3), as ms from now; null when it says nothing that can be read. */
export function retryAfterMs(header: string | null, nowMs: number): number | null {
  if (header === null) return null;
  const ms = /^\d{1,9}$/.test(header.trim()) ? Number(header) * 1000 : Date.parse(header) - nowMs;
  return Number.isFinite(ms) ? Math.min(LONGEST_WAIT_MS, Math.max(0, ms)) : null;
}

/** Why a request did not arrive, without its address: that may hold a secret. */
export function whyOf(error: unknown): string {
  const { name, message, cause } = error as Error & { readonly cause?: { readonly code?: string } };
  if (name === "TimeoutError") return `no answer within ${PATIENCE_MS / 1000} s`;
  return cause?.code ?? (name === "TypeError" ? "the request failed" : message);
}

/** Redirects are not followed: whoever set the address decided where it goes. */
export async function post(
  url: string,
  headers: Readonly<Record<string, string>>,
  body: string | Uint8Array<ArrayBuffer>,
): Promise<Sent> {
  try {
    const answer = await fetch(url, {
      method: "POST",
      headers,
      body,
      redirect: "manual",
      signal: AbortSignal.timeout(PATIENCE_MS),
    });
    await answer.body?.cancel();
    if (answer.ok) return { ok: true };
    const { status } = answer;
    const why = `answered ${status}`;
    const afterMs = retryAfterMs(answer.headers.get("retry-after"), Date.now());
    const again = status === 408 || status === 425 || status === 429 || status >= 500;
    return {
      ok: false,
      why,
      again,
      ...(afterMs === null ? {} : { afterMs }),
      ...(goneBy(status) ? { gone: true } : {}),
    };
  } catch (error) {
    return { ok: false, why: whyOf(error), again: true };
  }
}

function goneBy(status: number): boolean {
  return status === 404 || status === 410;
}
