// The address of the page and the passing of time, as hooks.
import { useEffect, useMemo, useState, useSyncExternalStore } from "react";
import { type Route, routeOf } from "./route.ts";

function subscribeHash(listener: () => void): () => void {
  globalThis.addEventListener("hashchange", listener);
  return () => globalThis.removeEventListener("hashchange", listener);
}

export function useRoute(): Route {
  const address = useSyncExternalStore(
    subscribeHash,
    () => `${globalThis.location.pathname}${globalThis.location.hash}`,
    // Drawn by the server: the board.
    () => "/#/",
  );
  return useMemo(() => {
    const at = address.indexOf("#");
    return at === -1 ? routeOf(address, "") : routeOf(address.slice(0, at), address.slice(at));
  }, [address]);
}

/** Leaves an address that holds a secret for the first page, so that the secret stays in no history. */
export function leaveDoor(): void {
  globalThis.history.replaceState(null, "", "/#/");
  globalThis.dispatchEvent(new HashChangeEvent("hashchange"));
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
