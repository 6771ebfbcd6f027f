// A web hook: the message as JSON, signed so that its reader knows that it comes from here and is not an old one.
import { createHmac } from "node:crypto";
import { WEBHOOK_AT_HEADER, WEBHOOK_SIGNATURE_HEADER, type WebhookMessage } from "#contract/notify.ts";
import type { Letter, Sent } from "./ports.ts";
import { post } from "./post.ts";

/** HMAC-SHA-256 (RFC 2104) over `{seconds}.{body}`, hexadecimal. */
export function signatureOf(secret: string, atS: number, body: string): string {
  return createHmac("sha256", secret).update(`${atS}.${body}`).digest("hex");
}

export async function sendWebhook(
  { url, secret }: { readonly url: string; readonly secret: string },
  letter: Letter,
  publicUrl: string | null,
): Promise<Sent> {
  const { key, kind, level, site, step, title, body, alarm } = letter;
  const linked = (path: string | null) => (path === null || publicUrl === null ? null : publicUrl + path);
  const message: WebhookMessage = {
    ...{ key, kind, level, site, step, title, body },
    open: linked(letter.open),
    acknowledge: linked(letter.acknowledge),
    alarm: alarm === null ? null : { ...alarm, zones: [...alarm.zones], history: [...alarm.history] },
  };
  const text = JSON.stringify(message);
  // The reader compares with its own clock: wall time, whatever time the site plays.
  const atS = Math.floor(Date.now() / 1000);
  const sent = await post(
    url,
    {
      "content-type": "application/json",
      [WEBHOOK_AT_HEADER]: String(atS),
      [WEBHOOK_SIGNATURE_HEADER]: signatureOf(secret, atS, text),
    },
    text,
  );
  // Its address stands until an owner changes it.
  return sent.ok
    ? sent
    : { ok: false, why: sent.why, again: sent.again, ...(sent.afterMs === undefined ? {} : { afterMs: sent.afterMs }) };
}
