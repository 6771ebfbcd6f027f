// The sites of the server: the last known list at once, the fresh one as soon as the server answers.
import { useEffect, useRef, useState } from "react";
import type { SiteBody } from "#contract/zone.ts";
import { api, ApiFailure } from "../data/api.ts";
import { siteList } from "../data/site-list.ts";
import { useSignal } from "../data/use-signal.ts";
import { useServices } from "./services.tsx";

const AGAIN_MS = 5000;

export interface Sites {
  readonly list: readonly SiteBody[] | null;
  /** The server did not answer the last time it was asked. */
  readonly failed: boolean;
}

/** `key` names who asks; null while nobody may. */
export function useSites(key: string | null): Sites {
  const { keep } = useServices();
  const known = (): Sites => {
    const kept = key === null ? null : keep.read("sites");
    return { list: Array.isArray(kept) ? (kept as SiteBody[]) : null, failed: false };
  };
  const [sites, setSites] = useState<Sites>(known);
  const asker = useRef(key);
  const changes = useSignal(siteList.signal);
  useEffect(() => {
    if (asker.current !== key) setSites(known());
    asker.current = key;
    if (key === null) return;
    let timer: ReturnType<typeof setTimeout> | undefined;
    let gone = false;
    const ask = async () => {
      try {
        const list = await api.sites();
        if (gone) return;
        keep.write("sites", list);
        setSites({ list, failed: false });
      } catch (cause) {
        if (gone || (cause instanceof ApiFailure && cause.status === 401)) return;
        setSites((before) => ({ ...before, failed: true }));
        timer = setTimeout(() => void ask(), AGAIN_MS);
      }
    };
    void ask();
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [keep, key, changes]);
  return sites;
}
