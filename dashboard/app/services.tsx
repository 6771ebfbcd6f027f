// The parts that live as long as the page: preferences, outbox, one board store per site. Made in main, reachable everywhere in app.
import { createContext, useContext, useEffect } from "react";
import { api, ApiFailure, gate } from "../data/api.ts";
import { type BoardStore, boardStore } from "../data/board-store.ts";
import { deviceKeep, type Keep } from "../data/keep.ts";
import { type Outbox, outbox } from "../data/outbox.ts";
import { type PrefsDesk, prefsDesk } from "../data/prefs.ts";
import { type SessionDesk, sessionDesk, writerOf } from "../data/session.ts";
import { backoffMs } from "../data/backoff.ts";
import type { Follow } from "../data/stream.ts";

export interface Services {
  readonly keep: Keep;
  readonly prefs: PrefsDesk;
  readonly outbox: Outbox;
  readonly session: SessionDesk;
  readonly storeOf: (site: string) => BoardStore;
  /** The first board has come or will not; or there is none to wait for. */
  readonly settled: Promise<void>;
}

const SETTLED_MS = 4000;
const pictures = () => import("../data/photo-box.ts");

/** The first picture needs no stream: what follows it comes after. */
const followAt =
  (address: string): Follow =>
  async (listener, signal, first) => {
    for (let tries = 0; !signal.aborted; tries += 1) {
      const stream = await import("../data/stream.ts").catch(() => null);
      if (stream !== null) return stream.followStream(stream.browserPorts(address), listener, signal, await first);
      listener.lost(tries + 1);
      await new Promise((resolve) => setTimeout(resolve, backoffMs(tries, Math.random())));
    }
  };

export function browserServices(): Services {
  const keep = deviceKeep;
  const stores = new Map<string, BoardStore>();
  const session = sessionDesk(keep, api.access, (run, ms) => void setTimeout(run, ms));
  /** The server takes no entry of one person from the session of another: it is not refused, it waits for its writer. */
  const heldOnDoubt = (cause: unknown): never => {
    const other = cause instanceof ApiFailure && cause.faults.some(({ field }) => field === "/by");
    if (!other || writerOf(session.signal.get().access) === null) throw cause;
    session.doubt();
    throw new ApiFailure("reach", cause.status, cause.message);
  };
  const box = outbox(keep, {
    writer: () => writerOf(session.signal.get().access),
    sure: () => session.signal.get().sure,
    send: (site, entry) => api.addEntry(site, entry).catch(heldOnDoubt),
    sendPicture: async (site, entry) => (await pictures()).sendPicture(site, entry).catch(heldOnDoubt),
    dropPicture: (id) => void pictures().then(({ deviceShelf }) => deviceShelf.drop(id).catch(() => undefined)),
    deviceNow: () => Date.now(),
    random: () => Math.random(),
    later: (run, ms) => void setTimeout(run, ms),
  });
  let settle = () => {};
  const settled = new Promise<void>((resolve) => {
    settle = resolve;
    setTimeout(resolve, SETTLED_MS);
  });
  let shownTo = session.signal.get().key;
  session.signal.subscribe(() => {
    const { key } = session.signal.get();
    if (key !== shownTo) stores.clear();
    shownTo = key;
    box.regard();
  });
  gate.ask = () => void session.refresh();
  globalThis.addEventListener("storage", (event) => {
    if (event.key === "nightslab.access") session.doubt();
  });
  globalThis.addEventListener("online", () => {
    if (session.signal.get().sure) box.kick();
    else void session.refresh();
  });
  void session.refresh();
  return {
    keep,
    prefs: prefsDesk(keep, navigator.language),
    outbox: box,
    session,
    settled,
    storeOf(site) {
      const known = stores.get(site);
      if (known !== undefined) return known;
      const address = `${api.root}/sites/${encodeURIComponent(site)}/stream`;
      const made = boardStore(site, keep, api.board, followAt(address), () => Date.now());
      stores.set(site, made);
      made.signal.subscribe(() => (made.signal.get().link === "waiting" ? undefined : setTimeout(settle)));
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
