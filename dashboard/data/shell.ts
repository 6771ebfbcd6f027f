// Has the browser keep the page itself, where it allows that (it asks for https or this very machine).

/** Tells the keeper what the page has loaded so far. */
async function tellKeeper(): Promise<void> {
  const { active } = await navigator.serviceWorker.ready;
  const loaded = performance
    .getEntriesByType("resource")
    .map((entry) => new URL(entry.name, location.href))
    .filter((address) => address.origin === location.origin && address.pathname.startsWith("/assets/"))
    .map((address) => address.pathname);
  // The page comes last: once it is kept, all that it needs is kept.
  active?.postMessage({ keep: [...new Set(loaded), "/mark.svg", "/"] });
}

/** Never fails: a page that cannot be kept works as well, as long as the server is there. */
export async function keepShell(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  try {
    await navigator.serviceWorker.register("/sw.js");
    await tellKeeper();
  } catch {
    // Not a secure context, or storage is forbidden.
  }
}
