// The address of the page and the passing of time, as hooks.
import { useEffect, useState, useSyncExternalStore } from "react";
import { type Route, routeFrom } from "./route.ts";

function subscribeHash(listener: () => void): () => void {
  globalThis.addEventListener("hashchange", listener);
  return () => globalThis.removeEventListener("hashchange", listener);
}

export function useRoute(): Route {
  return routeFrom(useSyncExternalStore(subscribeHash, () => globalThis.location.hash));
}

/** Device time, renewed every `everyMs` and when the page comes back to the front. */
export function useDeviceNow(everyMs: number): number {
  const [now, setNow] = useState(() => Date.now());
  useEffect(() => {
    const tick = () => setNow(Date.now());
    const timer = setInterval(tick, everyMs);
    document.addEventListener("visibilitychange", tick);
    return () => {
      clearInterval(timer);
      document.removeEventListener("visibilitychange", tick);
    };
  }, [everyMs]);
  return now;
}
