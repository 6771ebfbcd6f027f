// The services of a page that is drawn once and not run: what is known is given, nothing is asked, kept or sent.
import type { AccessBody } from "#contract/access.ts";
import type { BoardBody } from "#contract/board.ts";
import type { SiteBody } from "#contract/zone.ts";
import { type BoardStore, boardStore } from "../data/board-store.ts";
import type { Keep } from "../data/keep.ts";
import { outbox } from "../data/outbox.ts";
import { type Prefs, prefsDesk } from "../data/prefs.ts";
import { sessionDesk } from "../data/session.ts";
import type { Services } from "./services.tsx";

export interface Still {
  readonly prefs: Pick<Prefs, "language" | "units" | "hours">;
  readonly access: AccessBody;
  readonly sites: readonly SiteBody[];
  readonly board: BoardBody;
}

export function stillServices({ prefs, access, sites, board }: Still, deviceNowMs: number): Services {
  const known: Readonly<Record<string, unknown>> = {
    prefs: { ...prefs, site: board.site.id },
    ...{ access, sites },
    [`board.${board.site.id}`]: { board, heardMs: deviceNowMs },
  };
  const keep: Keep = { read: (key) => known[key] ?? null, write: () => false, drop: () => undefined };
  const never = () => new Promise<never>(() => undefined);
  const stores = new Map<string, BoardStore>();
  return {
    keep,
    prefs: prefsDesk(keep, prefs.language),
    session: sessionDesk(keep, never, () => undefined),
    settled: never(),
    outbox: outbox(keep, {
      ...{ writer: () => undefined, sure: () => false, send: never, sendPicture: never, dropPicture: () => undefined },
      ...{ deviceNow: () => deviceNowMs, random: () => 0, later: () => undefined },
    }),
    storeOf(site) {
      const store = stores.get(site) ?? boardStore(site, keep, never, never, () => deviceNowMs);
      stores.set(site, store);
      return store;
    },
  };
}
