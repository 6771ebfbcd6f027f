// Has the browser keep the page itself, where it allows that (it asks for https or this very machine).
import { newVersion } from "./new-version.ts";

const LOOK_EVERY_MS = 3_600_000;

/** Whether this page is already of the version that waits. */
function isOurs(waiting: ServiceWorker): Promise<boolean> {
  const entry = document.querySelector<HTMLScriptElement>("script[type=module][src]");
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data === true);
    waiting.postMessage({ has: entry === null ? "" : new URL(entry.src).pathname }, [port2]);
  });
}

async function offer(waiting: ServiceWorker): Promise<void> {
  // A page that came from the server is newer than its worker: nothing changes for whoever looks at it.
  if (await isOurs(waiting)) return waiting.postMessage({ use: true });
  newVersion.set(() => {
    navigator.serviceWorker.addEventListener("controllerchange", () => globalThis.location.reload(), { once: true });
    waiting.postMessage({ use: true });
  });
}

function watch(registration: ServiceWorkerRegistration): void {
  // Without a controller it is the first one, and not a newer version.
  const look = () => {
    if (registration.waiting !== null && navigator.serviceWorker.controller !== null) void offer(registration.waiting);
  };
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", look);
  });
  look();
  // A screen on a wall is never opened anew. Out of reach, the next look will do.
  setInterval(() => void registration.update().catch(() => undefined), LOOK_EVERY_MS);
}

/** Never fails: a page that cannot be kept works as well, as long as the server is there. */
export async function keepShell(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  navigator.serviceWorker.addEventListener("message", ({ data }) => {
    const { go } = (data ?? {}) as { readonly go?: unknown };
    if (typeof go === "string" && go.startsWith("#/")) globalThis.location.hash = go;
  });
  try {
    watch(await navigator.serviceWorker.register("/sw.js", { updateViaCache: "none" }));
  } catch {
    // Not a secure context, or storage is forbidden.
  }
}
