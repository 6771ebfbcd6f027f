// The board of one site as this device knows it: kept, fetched, streamed, and aged when the server is silent.
import type { AlarmBody } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import { ApiFailure } from "./api.ts";
import type { Keep } from "./keep.ts";
import { type Signal, signalOf } from "./signal.ts";
import { type Anchor, SILENT_AFTER_MS } from "./site-clock.ts";
import type { Follow, StreamListener } from "./stream.ts";

export interface BoardState {
  readonly board: BoardBody | null;
  readonly anchor: Anchor | null;
  /** Device time at which the server was last heard; null = never in this visit or a kept one. */
  readonly heardMs: number | null;
  /** `waiting`: first answer still out. `live`. `away`: silent or gone, what is shown is old. `refused`: there is no such site. `barred`: not for this person. */
  readonly link: "waiting" | "live" | "away" | "refused" | "barred";
  /** Those that are not over, as far as this device has heard; newest first. */
  readonly alarms: readonly AlarmBody[];
}

export interface BoardStore {
  readonly signal: Signal<BoardState>;
  /** The newest journal entry that the stream told of; pages fetch anew when it changes. */
  readonly lastEntry: Signal<EntryBody | null>;
  start(): void;
  stop(): void;
  /** One that changed; or, with those that were known when it was asked, all that the server says are not over. */
  takeAlarms(alarms: readonly AlarmBody[], instead: readonly AlarmBody[] | null): void;
  /** Fetches the board anew: somebody here has just changed what it shows. */
  renew(): void;
}

interface Kept {
  readonly board: BoardBody;
  readonly heardMs: number;
}

const KEEP_EVERY_MS = 10_000;
/** A larger board has no room on a device, and to write it out again and again would stop the page each time. */
const KEPT_ZONES = 200;
/** A slow client is sent only the newest of some events, so gaps are common there: it must not also fetch all the time. */
const REFETCH_EVERY_MS = 15_000;
/** A server that starts again is back within a try or two; after that it is gone. */
const TRIES_BEFORE_AWAY = 3;

function keptFrom(raw: unknown): Kept | null {
  const kept = raw as Partial<Kept> | null;
  return kept !== null &&
    typeof kept === "object" &&
    typeof kept.heardMs === "number" &&
    Array.isArray(kept.board?.zones)
    ? (kept as Kept)
    : null;
}

function keptAlarms(raw: unknown): readonly AlarmBody[] {
  return Array.isArray(raw) ? (raw as AlarmBody[]).filter((one) => typeof one?.id === "string") : [];
}

/** `instead`: those that are known in place of which `heard` comes; what was told meanwhile is newer. Null: one by one. */
function withAlarms(
  known: readonly AlarmBody[],
  heard: readonly AlarmBody[],
  instead: readonly AlarmBody[] | null,
): readonly AlarmBody[] {
  const left = known.filter((one) =>
    instead === null ? heard.every(({ id }) => id !== one.id) : !instead.includes(one),
  );
  const news = heard.filter(({ id, state }) => state !== "cleared" && left.every((one) => one.id !== id));
  return [...news, ...left].sort((a, b) => b.raisedAt.localeCompare(a.raisedAt));
}

const anchorOf = (board: BoardBody, deviceMs: number): Anchor => ({
  siteMs: Date.parse(board.at),
  deviceMs,
  pace: board.pace,
});

export function boardStore(
  site: string,
  keep: Keep,
  fetchBoard: (site: string) => Promise<BoardBody>,
  follow: Follow,
  deviceNow: () => number,
): BoardStore {
  const kept = keptFrom(keep.read(`board.${site}`));
  const alarmKey = `board.alarms.${site}`;
  const signal = signalOf<BoardState>({
    board: kept?.board ?? null,
    anchor: kept === null ? null : anchorOf(kept.board, kept.heardMs),
    heardMs: kept?.heardMs ?? null,
    link: "waiting",
    alarms: keptAlarms(keep.read(alarmKey)),
  });
  const lastEntry = signalOf<EntryBody | null>(null);
  let running: AbortController | null = null;
  let watch: ReturnType<typeof setInterval> | undefined;
  let savedMs = Number.NEGATIVE_INFINITY;
  let fetchedMs = Number.NEGATIVE_INFINITY;

  const heard = (board: BoardBody | null, saveNow: boolean) => {
    const now = deviceNow();
    const before = signal.get();
    signal.set({
      ...before,
      board,
      heardMs: now,
      link: board === null ? before.link : "live",
      anchor: board === null ? before.anchor : anchorOf(board, now),
    });
    if (board !== null && board.zones.length <= KEPT_ZONES && (saveNow || now - savedMs >= KEEP_EVERY_MS)) {
      savedMs = now;
      keep.write(`board.${site}`, { board, heardMs: now } satisfies Kept);
    }
  };
  const away = () => {
    if (signal.get().link !== "refused" && signal.get().link !== "barred")
      signal.set({ ...signal.get(), link: "away" });
  };
  /** Gives the id of the last change in what it shows now; null where it shows nothing new. */
  const refresh = async (): Promise<string | null> => {
    if (deviceNow() - fetchedMs < REFETCH_EVERY_MS) return null;
    fetchedMs = deviceNow();
    try {
      const board = await fetchBoard(site);
      if (running === null) return null;
      const shown = signal.get();
      // The stream may have been faster.
      if (shown.link !== "live" || shown.board === null || board.at >= shown.board.at) {
        heard(board, true);
        return board.upTo ?? null;
      }
    } catch (cause) {
      const status = cause instanceof ApiFailure ? cause.status : 0;
      if (status === 404 || status === 403)
        signal.set({ ...signal.get(), board: null, link: status === 404 ? "refused" : "barred" });
      else if (signal.get().link === "waiting") away();
    }
    return null;
  };
  const takeAlarms: BoardStore["takeAlarms"] = (heard, instead) => {
    const alarms = withAlarms(signal.get().alarms, heard, instead);
    keep.write(alarmKey, alarms);
    signal.set({ ...signal.get(), alarms });
  };
  const told: StreamListener["told"] = (item, apply) => {
    // What comes when whoever looked has left belongs to them, and this device has forgotten it.
    if (running === null) return;
    heard(apply(signal.get().board, item), item.event === "snapshot");
    if (item.event === "journal") lastEntry.set(item.body as EntryBody);
    if (item.event === "alarm") takeAlarms([item.body], null);
  };
  const checkSilence = () => {
    const { heardMs, link } = signal.get();
    if (link === "live" && heardMs !== null && deviceNow() - heardMs > SILENT_AFTER_MS) away();
  };

  return {
    signal,
    lastEntry,
    start() {
      if (running !== null) return;
      running = new AbortController();
      watch = setInterval(checkSilence, 1000);
      // What has just been fetched is not sent once more: the stream goes on after it.
      const first = refresh();
      void follow(
        { told, gap: () => void refresh(), lost: (times) => (times >= TRIES_BEFORE_AWAY ? away() : undefined) },
        running.signal,
        first,
      );
    },
    stop() {
      running?.abort();
      running = null;
      clearInterval(watch);
    },
    takeAlarms,
    renew() {
      fetchedMs = Number.NEGATIVE_INFINITY;
      void refresh();
    },
  };
}
