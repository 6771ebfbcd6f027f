// Pictures that wait on this device for the server, each under the id of its journal entry. Loaded when there is one.
import type { EntryBody } from "#contract/journal.ts";
import { ApiFailure } from "./api.ts";
import type { Keep } from "./keep.ts";
import { newEntryId, type Outbox, PICTURE_LOST, waitingFrom } from "./outbox.ts";
import { recordApi } from "./record-api.ts";

export interface PictureShelf {
  /** Rejects where the device has no room, or keeps nothing. */
  put(id: string, picture: Blob): Promise<void>;
  get(id: string): Promise<Blob | null>;
  drop(id: string): Promise<void>;
  /** Of those that were put here before, epoch ms. */
  ids(beforeMs: number): Promise<readonly string[]>;
}

interface Kept {
  readonly type: string;
  readonly bytes: ArrayBuffer;
  readonly putMs: number;
}

const STORE = "pictures";

const done = <T>(request: IDBRequest<T>) =>
  new Promise<T>((resolve, reject) => {
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error ?? new Error("the device keeps nothing"));
  });

async function within<T>(mode: IDBTransactionMode, work: (store: IDBObjectStore) => IDBRequest<T>): Promise<T> {
  const opening = indexedDB.open("nightslab", 1);
  opening.onupgradeneeded = () => void opening.result.createObjectStore(STORE);
  const database = await done(opening);
  try {
    const transaction = database.transaction(STORE, mode, { durability: "strict" });
    const ended = new Promise<void>((resolve, reject) => {
      transaction.oncomplete = () => resolve();
      // What is too much may be refused only now.
      transaction.onabort = () => reject(transaction.error ?? new Error("the device keeps nothing"));
    });
    const [answer] = await Promise.all([done(work(transaction.objectStore(STORE))), ended]);
    return answer;
  } finally {
    database.close();
  }
}

export const deviceShelf: PictureShelf = {
  async put(id, picture) {
    const kept: Kept = { type: picture.type, bytes: await picture.arrayBuffer(), putMs: Date.now() };
    await within("readwrite", (store) => store.put(kept, id));
    // Asked for when there is something to lose; a browser that says no may clear it when the device is full.
    void (navigator.storage as StorageManager | undefined)?.persist().catch(() => false);
  },
  async get(id) {
    const kept = (await within("readonly", (store) => store.get(id))) as Kept | undefined;
    return kept === undefined ? null : new Blob([kept.bytes], { type: kept.type });
  },
  async drop(id) {
    await within("readwrite", (store) => store.delete(id));
  },
  async ids(beforeMs) {
    const all: string[] = [];
    for (const id of (await within("readonly", (store) => store.getAllKeys())).map(String)) {
      const kept = (await within("readonly", (store) => store.get(id))) as Kept | undefined;
      if (kept !== undefined && kept.putMs < beforeMs) all.push(id);
    }
    return all;
  },
};

/** Stands in the entry until the server has named the picture by what is in it. */
export const UNNAMED = "0".repeat(64);

type Photographed = Extract<EntryBody, { readonly did: "photographed" }>;

/**
 * Writes a picture down: kept here first, so that it goes in its turn, with or without the server. Where the device keeps
 * nothing it is sent at once, and rejects with what went wrong; then nothing was written.
 */
export async function writePicture(
  outbox: Outbox,
  site: string,
  entry: Omit<Photographed, "photo">,
  picture: Blob,
  shelf: PictureShelf = deviceShelf,
  send: typeof recordApi.sendPhoto = recordApi.sendPhoto,
): Promise<void> {
  const id = newEntryId();
  try {
    await shelf.put(id, picture);
  } catch {
    try {
      const { id: photo } = await send(site, picture, entry.by ?? null);
      outbox.write(site, { ...entry, id, photo });
      return;
    } catch (cause) {
      throw cause instanceof ApiFailure && cause.kind === "refused" ? cause : new NoRoom();
    }
  }
  outbox.write(site, { ...entry, id, photo: UNNAMED }, true);
}

/** Neither the device nor the server took the picture. */
export class NoRoom extends Error {}

/** Sends the picture of an entry; gives the server's name for it. The same picture has the same name, however often it is sent. */
export async function sendPicture(
  site: string,
  entry: EntryBody & { readonly id: string },
  shelf: PictureShelf = deviceShelf,
  send: typeof recordApi.sendPhoto = recordApi.sendPhoto,
): Promise<string> {
  const picture = await shelf.get(entry.id);
  if (picture === null) throw new ApiFailure("refused", 0, PICTURE_LOST);
  return (await send(site, picture, entry.by ?? null)).id;
}

const DAY_MS = 86_400_000;

/**
 * Drops what no entry waits for: a page can end between an answer and what follows it. Not what is of today: another page
 * of this browser may be about to write its entry.
 */
export async function sweep(keep: Keep, nowMs: number, shelf: PictureShelf = deviceShelf): Promise<void> {
  const waiting = waitingFrom(keep.read("outbox")).map(({ entry }) => entry.id);
  for (const id of await shelf.ids(nowMs - DAY_MS)) if (!waiting.includes(id)) await shelf.drop(id);
}
