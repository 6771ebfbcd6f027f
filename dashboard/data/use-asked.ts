// Asks the server for something a page shows, again after a failure, and again when what it depends on changes.
import { useEffect, useRef, useState } from "react";

export interface Asked<T> {
  /** The last answer for this place; stays while a newer one is on its way. */
  readonly value: T | null;
  readonly failed: boolean;
}

const AGAIN_MS = 5000;

/** `place` names what is asked for: another place starts empty. `reason` only asks anew. */
export function useAsked<T>(ask: () => Promise<T>, place: string, reason: string): Asked<T> {
  const [asked, setAsked] = useState<Asked<T> & { readonly place: string }>({ value: null, failed: false, place });
  const latest = useRef(ask);
  latest.current = ask;
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    let gone = false;
    const run = async () => {
      try {
        const value = await latest.current();
        if (!gone) setAsked({ value, failed: false, place });
      } catch {
        if (gone) return;
        setAsked((before) => ({ value: before.place === place ? before.value : null, failed: true, place }));
        timer = setTimeout(() => void run(), AGAIN_MS);
      }
    };
    void run();
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [place, reason]);
  return asked.place === place ? asked : { value: null, failed: false };
}
