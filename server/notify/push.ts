// Web push: RFC 8030 with encryption by RFC 8291 and the server's own key by RFC 8292.
import { createHash } from "node:crypto";
import webPush from "web-push";
import type { PushMessage } from "#contract/notify.ts";
import type { NotifyKeys } from "./keys.ts";
import type { Letter, PushWish, Sent } from "./ports.ts";
import { post } from "./post.ts";

/** A message that comes after this is of no use any more. */
const LIFE_S = 12 * 3600;
/** A push service takes 4096 bytes (RFC 8030, 7.2), and encryption adds some hundred. */
const LONGEST_BODY = 900;

/** At most 32 letters (RFC 8030, 5.4): a later message of the same thing takes the place of one that was not fetched yet. */
export function pushTopic(thread: string): string {
  return createHash("sha256").update(thread).digest("base64url").slice(0, 32);
}

export function pushId(endpoint: string): string {
  return `p-${createHash("sha256").update(endpoint).digest("hex").slice(0, 16)}`;
}

const INSIDE = /^(localhost|.*\.(localhost|local|internal|lan|home|intranet)|[^.]+|\[.*\]|\d+(\.\d+){3})$/i;

/**
 * Any signed-in person names the address of a push service, so it must not lead inside: HTTPS, and a public name. A name
 * that leads inside all the same gets one encrypted POST, whose answer is not shown.
 */
export function isPushAddress(endpoint: string): boolean {
  if (!URL.canParse(endpoint)) return false;
  const { protocol, hostname, username } = new URL(endpoint);
  return protocol === "https:" && username === "" && !INSIDE.test(hostname);
}

export async function sendPush(
  { endpoint, keys }: Pick<PushWish, "endpoint" | "keys">,
  letter: Letter,
  { vapid, subject }: { readonly vapid: NotifyKeys; readonly subject: string },
): Promise<Sent> {
  const message: PushMessage = {
    title: letter.title,
    body: letter.body.slice(0, LONGEST_BODY),
    tag: pushTopic(letter.thread),
    level: letter.level,
    language: letter.language,
    open: letter.open,
    acknowledge: letter.acknowledge,
  };
  const request = webPush.generateRequestDetails({ endpoint, keys }, JSON.stringify(message), {
    vapidDetails: { subject, publicKey: vapid.vapidPublic, privateKey: vapid.vapidPrivate },
    TTL: LIFE_S,
    urgency: letter.level === "wake" ? "high" : "normal",
    topic: pushTopic(letter.thread),
    contentEncoding: "aes128gcm",
  });
  const headers = Object.fromEntries(Object.entries(request.headers).map(([name, value]) => [name, String(value)]));
  return post(endpoint, headers, new Uint8Array(request.body ?? Buffer.alloc(0)));
}
