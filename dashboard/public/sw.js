// Keeps the page itself on the device, so that it opens while the server is out of reach and shows the last board with its age.
// It never keeps answers of the API: an old call must not come back as if it were new.
const SHELF = "nightslab-shell-1";
const PATIENCE_MS = 4000;
const MOST_KEPT = 60;

self.addEventListener("install", () => self.skipWaiting());

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys()) if (name !== SHELF) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

// The page tells what it is made of. The oldest files, of earlier versions, go first.
self.addEventListener("message", (event) => {
  const wanted = event.data?.keep;
  if (!Array.isArray(wanted)) return;
  event.waitUntil(
    (async () => {
      const shelf = await caches.open(SHELF);
      for (const address of wanted) if (!(await shelf.match(address))) await shelf.add(address).catch(() => undefined);
      const old = (await shelf.keys()).map((kept) => kept.url).slice(0, -MOST_KEPT);
      for (const address of old) await shelf.delete(address);
    })(),
  );
});

async function fromServer(request) {
  const answer = await fetch(request, { signal: AbortSignal.timeout(PATIENCE_MS) });
  if (answer.ok) await (await caches.open(SHELF)).put(request.mode === "navigate" ? "/" : request, answer.clone());
  return answer;
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin || pathname.startsWith("/api/")) return;
  event.respondWith(
    (async () => {
      const kept = await caches.match(request.mode === "navigate" ? "/" : request);
      // Files named by their content never change; the page that names them does.
      if (kept && pathname.startsWith("/assets/")) return kept;
      try {
        return await fromServer(request);
      } catch (cause) {
        if (kept) return kept;
        throw cause;
      }
    })(),
  );
});
