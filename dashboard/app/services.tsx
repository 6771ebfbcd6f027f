// The parts that live as long as the page: preferences, outbox, one board store per site. Made in main, reachable everywhere in app.
import { createContext, useContext, useEffect } from "react";
import { api } from "../data/api.ts";
import { type BoardStore, boardStore } from "../data/board-store.ts";
import { deviceKeep, type Keep } from "../data/keep.ts";
import { type Outbox, outbox } from "../data/outbox.ts";
import { type PrefsDesk, prefsDesk } from "../data/prefs.ts";
import { browserPorts } from "../data/stream.ts";

export interface Services {
  readonly keep: Keep;
  readonly prefs: PrefsDesk;
  readonly outbox: Outbox;
  readonly storeOf: (site: string) => BoardStore;
}

export function browserServices(): Services {
  const keep = deviceKeep;
  const stores = new Map<string, BoardStore>();
  const box = outbox(keep, {
    send: (site, entry) => api.addEntry(site, entry),
    deviceNow: () => Date.now(),
    random: () => Math.random(),
    later: (run, ms) => void setTimeout(run, ms),
  });
  globalThis.addEventListener("online", box.kick);
  box.kick();
  return {
    keep,
    prefs: prefsDesk(keep, navigator.language),
    outbox: box,
    storeOf(site) {
      const known = stores.get(site);
      if (known !== undefined) return known;
      const address = `${api.root}/sites/${encodeURIComponent(site)}/stream`;
      const made = boardStore(site, keep, api.board, browserPorts(address), () => Date.now());
      stores.set(site, made);
      return made;
    },
  };
}

const ServicesContext = createContext<Services | null>(null);
export const ServicesProvider = ServicesContext.Provider;

export function useServices(): Services {
  const services = useContext(ServicesContext);
  if (services === null) throw new Error("no services above this component");
  return services;
}

/** The store of a site, following the server while the component is shown. */
export function useRunningStore(site: string): BoardStore {
  const store = useServices().storeOf(site);
  useEffect(() => {
    store.start();
    return () => store.stop();
  }, [store]);
  return store;
}
