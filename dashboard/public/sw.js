// Keeps the page itself on the device, so that it opens while the server is out of reach and shows the last board with its age;
// and rings when the server sends an alarm. It never keeps answers of the API: an old call must not come back as if it were new.

// What the build made: { version, files }. A change of it is a new version of this worker.
importScripts("/shell.js");

const SHELF = `nightslab-shell-${self.SHELL.version}`;
const PATIENCE_MS = 4000;
/** For the page itself: the server draws its board into it, which is worth a moment; without it the last board is here. */
const PAGE_PATIENCE_MS = 700;

// All or nothing: a page without one of its parts would fail when it is needed. It waits until somebody wants it.
self.addEventListener("install", (event) => {
  event.waitUntil(
    (async () => {
      const shelf = await caches.open(SHELF);
      await shelf.addAll(
        self.SHELL.files.map((address) =>
          // The build names these by their content; all others may be older in the browser's own store.
          address.startsWith("/assets/") ? address : new Request(address, { cache: "reload" }),
        ),
      );
    })(),
  );
});

self.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      for (const name of await caches.keys())
        if (name.startsWith("nightslab-shell-") && name !== SHELF) await caches.delete(name);
      await self.clients.claim();
    })(),
  );
});

// `has`: whether the page that asks is of this version. `use`: somebody wants this version now.
self.addEventListener("message", (event) => {
  const { has, use } = event.data ?? {};
  if (typeof has === "string") event.ports[0]?.postMessage(self.SHELL.files.includes(has));
  if (use === true) event.waitUntil(self.skipWaiting());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { origin, pathname } = new URL(request.url);
  if (request.method !== "GET" || origin !== self.location.origin || pathname.startsWith("/api/")) return;
  event.respondWith(
    (async () => {
      const shelf = await caches.open(SHELF);
      const kept = await shelf.match(request.mode === "navigate" ? "/" : request);
      // Files named by their content never change; the page that names them does.
      if (kept && pathname.startsWith("/assets/")) return kept;
      try {
        const patienceMs = request.mode === "navigate" ? PAGE_PATIENCE_MS : PATIENCE_MS;
        return await fetch(request, kept ? { signal: AbortSignal.timeout(patienceMs) } : {});
      } catch (cause) {
        if (kept) return kept;
        throw cause;
      }
    })(),
  );
});

const WORDS = {
  en: { seen: "Seen, I take care", open: "Open", taken: "Seen", failed: "Not delivered: the server is out of reach." },
  es: {
    seen: "Vista, me ocupo",
    open: "Abrir",
    taken: "Vista",
    failed: "No entregado: el servidor no está al alcance.",
  },
};
const wordsOf = (language) => WORDS[language] ?? WORDS.en;

/** A later message of the same alarm takes the place of the one before, and rings anew. */
function show(message, body = message.body) {
  const words = wordsOf(message.language);
  const actions = [
    ...(message.acknowledge ? [{ action: "acknowledge", title: words.seen }] : []),
    { action: "open", title: words.open },
  ];
  return self.registration.showNotification(message.title, {
    body,
    actions,
    tag: message.tag,
    renotify: true,
    requireInteraction: message.level === "wake",
    lang: message.language,
    icon: "/icon-192.png",
    data: message,
  });
}

function messageOf(event) {
  try {
    const message = event.data.json();
    if (typeof message.title === "string" && typeof message.body === "string" && message.tag) return message;
  } catch {
    // A browser takes the right to ring from a page that gets a message and shows nothing.
  }
  return {
    title: "Nightslab",
    body: "",
    tag: "unreadable",
    level: "tell",
    language: "en",
    open: "/",
    acknowledge: null,
  };
}

self.addEventListener("push", (event) => event.waitUntil(show(messageOf(event))));

async function acknowledge(message) {
  try {
    const answer = await fetch(message.acknowledge, {
      method: "POST",
      headers: { "content-type": "application/x-www-form-urlencoded" },
      signal: AbortSignal.timeout(15_000),
    });
    // 410: answered before, or too old. The page says which.
    if (answer.status === 410) return await open(message.open);
    if (!answer.ok) throw new Error(`HTTP ${answer.status}`);
    await self.registration.showNotification(`${wordsOf(message.language).taken}: ${message.title}`, {
      tag: message.tag,
      silent: true,
      lang: message.language,
      icon: "/icon-192.png",
      data: { ...message, acknowledge: null },
    });
  } catch {
    await show(message, `${wordsOf(message.language).failed} ${message.body}`);
  }
}

async function open(path) {
  const address = new URL(path, self.location.origin);
  if (address.origin !== self.location.origin) return;
  const [page] = await self.clients.matchAll({ type: "window" });
  if (page === undefined) return void (await self.clients.openWindow(address.href));
  // The page goes there by itself: a worker may only move pages that it controls.
  page.postMessage({ go: address.hash });
  // Some browsers allow it only for a moment after the tap.
  await page.focus().catch(() => undefined);
}

self.addEventListener("notificationclick", (event) => {
  event.notification.close();
  const message = event.notification.data;
  event.waitUntil(event.action === "acknowledge" && message.acknowledge ? acknowledge(message) : open(message.open));
});
