// Whether this device rings: asks the browser for leave, and tells the server where to send (Push API, RFC 8030).
import type { PushWish } from "#contract/notify.ts";

/** `none`: this browser cannot, or the page came over plain HTTP. `denied`: the person or the browser said no. */
export type PushState = "none" | "off" | "denied" | "on";

async function registration(): Promise<ServiceWorkerRegistration | null> {
  if (!("serviceWorker" in navigator) || !("PushManager" in globalThis) || !("Notification" in globalThis)) return null;
  return (await navigator.serviceWorker.getRegistration()) ?? null;
}

/** As the server names it: `p-` and 16 hexadecimal digits of the SHA-256 of its address. */
async function idOf(endpoint: string): Promise<string> {
  const hash = new Uint8Array(await crypto.subtle.digest("SHA-256", new TextEncoder().encode(endpoint)));
  return `p-${[...hash.slice(0, 8)].map((byte) => byte.toString(16).padStart(2, "0")).join("")}`;
}

export async function pushState(): Promise<{ readonly state: PushState; readonly id: string | null }> {
  const worker = await registration();
  if (worker === null) return { state: "none", id: null };
  if (Notification.permission === "denied") return { state: "denied", id: null };
  const standing = await worker.pushManager.getSubscription();
  return standing === null ? { state: "off", id: null } : { state: "on", id: await idOf(standing.endpoint) };
}

function bytesOf(base64url: string): Uint8Array<ArrayBuffer> {
  const text = atob(base64url.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(text, (letter) => letter.charCodeAt(0));
}

/** Asks the person, so it is called by a tap only. Null where it was refused. */
export async function subscribe(serverKey: string, device: string): Promise<PushWish | null> {
  const worker = await registration();
  if (worker === null || (await Notification.requestPermission()) !== "granted") return null;
  const before = await worker.pushManager.getSubscription();
  // One made for another server's key would never be delivered.
  await before?.unsubscribe();
  const made = await worker.pushManager.subscribe({
    userVisibleOnly: true,
    applicationServerKey: bytesOf(serverKey),
  });
  const { endpoint, keys } = made.toJSON();
  if (endpoint === undefined || keys?.["p256dh"] === undefined || keys["auth"] === undefined)
    throw new Error("the browser gave no keys");
  return { endpoint, keys: { p256dh: keys["p256dh"], auth: keys["auth"] }, device };
}

export async function unsubscribe(): Promise<void> {
  const worker = await registration();
  await (await worker?.pushManager.getSubscription())?.unsubscribe();
}
