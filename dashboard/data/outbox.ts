// Journal entries on their way to the server: kept on this device, sent in order, tried again until the server has answered.
import type { EntryBody } from "#contract/journal.ts";
import { ApiFailure } from "./api.ts";
import type { Keep } from "./keep.ts";
import { backoffMs } from "./backoff.ts";
import { type Signal, signalOf } from "./signal.ts";

export interface Waiting {
  readonly site: string;
  readonly entry: EntryBody & { readonly id: string };
  /** Who was signed in when it was written here; null = nobody had to. It goes under no other name. */
  readonly writer: string | null;
  /** Its picture waits on this device, under the entry's id, and goes first: until then the entry names none. */
  readonly picture?: true;
}

export interface Refused extends Waiting {
  readonly why: string;
  /** Not for the role of whoever wrote it. */
  readonly barred: boolean;
}

export interface Written extends Waiting {
  /** Device time at which the person wrote it. */
  readonly writtenMs: number;
  readonly sent: boolean;
}

export interface OutboxState {
  /** What goes next, all of it written by whoever is signed in. */
  readonly waiting: readonly Waiting[];
  /** What others wrote on this device: it stays until they sign in here again. */
  readonly held: readonly Waiting[];
  readonly refused: readonly Refused[];
  /** The last entry written here, while it can be undone. */
  readonly last: Written | null;
  /** The device has no room: what waits is lost when the page is closed. */
  readonly unkept: boolean;
}

export interface Outbox {
  readonly signal: Signal<OutboxState>;
  /** `picture`: it was put on the shelf of pictures under the entry's id. */
  write(site: string, entry: EntryBody, picture?: true): void;
  /** Takes back the last entry: dropped if it never left, otherwise undone by an entry of its own. */
  undo(atIso: string): void;
  forgetLast(): void;
  putAwayRefused(id: string): void;
  /** Tries to send now, without waiting for the next try. */
  kick(): void;
  /** Somebody signed in or out. */
  regard(): void;
  /** What was written here while nobody had to sign in becomes the entry of whoever is signed in. */
  adopt(): void;
  putAwayHeld(id: string): void;
}

export interface OutboxPorts {
  readonly send: (site: string, entry: EntryBody) => Promise<unknown>;
  /** Sends the picture that waits for an entry; gives the server's name for it. */
  readonly sendPicture: (site: string, entry: Waiting["entry"]) => Promise<string>;
  /** An entry needs its picture no longer. */
  readonly dropPicture: (id: string) => void;
  /** Who writes here; null = nobody has to sign in, undefined = nobody has. */
  readonly writer: () => string | null | undefined;
  /** The server has said in this visit who it is. */
  readonly sure: () => boolean;
  readonly deviceNow: () => number;
  readonly random: () => number;
  readonly later: (run: () => void, ms: number) => void;
}

/** An id made here, so that an entry sent twice stays one entry. Works where the page is not a secure context. */
export function newEntryId(): string {
  const bytes = globalThis.crypto.getRandomValues(new Uint8Array(12));
  return `d-${[...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("")}`;
}

/** Why an entry is put aside whose picture the device has lost. */
export const PICTURE_LOST = "picture-lost";

export function waitingFrom(raw: unknown): Waiting[] {
  return Array.isArray(raw)
    ? (raw as Waiting[])
        .filter((item) => typeof item?.site === "string" && typeof item.entry?.id === "string")
        .map((item) => ({ ...item, writer: typeof item.writer === "string" ? item.writer : null }))
    : [];
}

export function outbox(keep: Keep, ports: OutboxPorts): Outbox {
  const split = (all: readonly Waiting[]) => {
    const writer = ports.writer();
    return {
      waiting: all.filter((item) => item.writer === writer),
      held: all.filter((item) => item.writer !== writer),
    };
  };
  const signal = signalOf<OutboxState>({
    ...split(waitingFrom(keep.read("outbox"))),
    refused: [],
    last: null,
    unkept: false,
  });
  let sending = false;
  let tries = 0;
  let round = 0;
  /** Entries that may have reached the server, whether or not it could answer. */
  const tried = new Set<string>();

  const change = (part: Partial<OutboxState>) => {
    signal.set({ ...signal.get(), ...part });
    const { held, waiting } = signal.get();
    if (part.waiting === undefined && part.held === undefined) return;
    const unkept = keep.write("outbox", [...held, ...waiting]) === false;
    if (unkept !== signal.get().unkept) signal.set({ ...signal.get(), unkept });
  };
  /** What waits has changed on its way: both lists are looked through, since somebody may have signed in meanwhile. */
  const replace = (id: string, by: Waiting) => {
    const put = (item: Waiting) => (item.entry.id === id ? by : item);
    change({ waiting: signal.get().waiting.map(put), held: signal.get().held.map(put) });
  };
  const waits = ({ entry }: Waiting) => all().some((item) => item.entry.id === entry.id);
  /** Gives the entry with its picture named; null where it was taken back meanwhile. */
  const named = async (head: Waiting): Promise<Waiting | null> => {
    if (head.picture === undefined) return head;
    const photo = await ports.sendPicture(head.site, head.entry);
    if (!waits(head)) return null;
    const { picture: _sent, ...rest } = head;
    const item: Waiting = { ...rest, entry: { ...head.entry, photo } as Waiting["entry"] };
    replace(head.entry.id, item);
    ports.dropPicture(head.entry.id);
    return item;
  };
  const settle = (done: Waiting) => {
    const { waiting, held, last } = signal.get();
    const others = (item: Waiting) => item.entry.id !== done.entry.id;
    tries = 0;
    change({
      waiting: waiting.filter(others),
      held: held.filter(others),
      last: last?.entry.id === done.entry.id ? { ...last, sent: true } : last,
    });
  };
  const next = () => (ports.sure() ? signal.get().waiting.find((item) => item.writer === ports.writer()) : undefined);
  const pump = async () => {
    if (sending) return;
    sending = true;
    try {
      for (let head = next(); head !== undefined; head = next()) {
        try {
          const item = await named(head);
          // Signed out while the picture was on its way: it waits for its writer.
          if (item === null || next()?.entry.id !== item.entry.id) continue;
          tried.add(item.entry.id);
          await ports.send(item.site, item.entry);
          settle(item);
        } catch (cause) {
          // Without a session nothing is refused: it waits for its writer.
          if (!(cause instanceof ApiFailure) || cause.kind === "reach" || cause.status === 401) throw cause;
          settle(head);
          if (head.picture === true) ports.dropPicture(head.entry.id);
          change({
            refused: [...signal.get().refused, { ...head, why: cause.message, barred: cause.status === 403 }],
            last: null,
          });
        }
      }
    } catch {
      round += 1;
      const mine = round;
      // A kick in between starts a round of its own; the older timer then stands aside.
      ports.later(() => (mine === round ? void pump() : undefined), backoffMs(tries, ports.random()));
      tries += 1;
    } finally {
      sending = false;
    }
  };
  const all = () => [...signal.get().held, ...signal.get().waiting];

  return {
    signal,
    write(site, entry, picture) {
      // Without a session what is written stays for the person who was asked for it; nobody else sends it.
      const writer = ports.writer();
      if (writer === undefined) return;
      const by = writer === null ? {} : { by: writer };
      const carries = picture === true ? { picture } : {};
      const item: Waiting = { site, entry: { ...entry, ...by, id: entry.id ?? newEntryId() }, writer, ...carries };
      change({
        waiting: [...signal.get().waiting, item],
        last: { ...item, writtenMs: ports.deviceNow(), sent: false },
      });
      void pump();
    },
    undo(atIso) {
      const { last, waiting } = signal.get();
      if (last === null) return;
      // An answer can get lost on its way back: only what certainly never left is dropped.
      if (!tried.has(last.entry.id)) {
        if (last.picture === true) ports.dropPicture(last.entry.id);
        change({ waiting: waiting.filter((item) => item.entry.id !== last.entry.id), last: null });
        return;
      }
      const { zone = null, by = null, id } = last.entry;
      const undone: EntryBody & { id: string } = {
        id: newEntryId(),
        did: "undone",
        at: atIso,
        zone,
        undoes: id,
        ...(by === null ? {} : { by }),
      };
      change({ waiting: [...waiting, { site: last.site, entry: undone, writer: last.writer }], last: null });
      void pump();
    },
    forgetLast: () => change({ last: null }),
    putAwayRefused: (id) => change({ refused: signal.get().refused.filter((item) => item.entry.id !== id) }),
    kick: () => void pump(),
    regard() {
      const { last, refused } = signal.get();
      const writer = ports.writer();
      change({
        ...split(all()),
        last: last?.writer === writer ? last : null,
        refused: refused.filter((item) => item.writer === writer),
      });
      void pump();
    },
    adopt() {
      const writer = ports.writer();
      if (typeof writer !== "string") return;
      change(
        split(
          all().map((item) =>
            item.writer === null ? { ...item, entry: { ...item.entry, by: writer }, writer } : item,
          ),
        ),
      );
      void pump();
    },
    putAwayHeld(id) {
      if (signal.get().held.some((item) => item.entry.id === id && item.picture === true)) ports.dropPicture(id);
      change({ held: signal.get().held.filter((item) => item.entry.id !== id) });
    },
  };
}
