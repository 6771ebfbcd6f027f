// The sites of the server: the last known list at once, the fresh one as soon as the server answers.
import { useEffect, useState } from "react";
import type { SiteBody } from "#contract/zone.ts";
import { api } from "../data/api.ts";
import { useServices } from "./services.tsx";

const AGAIN_MS = 5000;

export interface Sites {
  readonly list: readonly SiteBody[] | null;
  /** The server did not answer the last time it was asked. */
  readonly failed: boolean;
}

export function useSites(): Sites {
  const { keep } = useServices();
  const [sites, setSites] = useState<Sites>(() => {
    const kept = keep.read("sites");
    return { list: Array.isArray(kept) ? (kept as SiteBody[]) : null, failed: false };
  });
  useEffect(() => {
    let timer: ReturnType<typeof setTimeout> | undefined;
    let gone = false;
    const ask = async () => {
      try {
        const list = await api.sites();
        if (gone) return;
        keep.write("sites", list);
        setSites({ list, failed: false });
      } catch {
        if (gone) return;
        setSites((before) => ({ ...before, failed: true }));
        timer = setTimeout(() => void ask(), AGAIN_MS);
      }
    };
    void ask();
    return () => {
      gone = true;
      clearTimeout(timer);
    };
  }, [keep]);
  return sites;
}
