// Pictures on their way: kept beside their entry, sent before it, once, in order, whatever breaks in between.
import { describe, expect, it } from "vitest";
import type { EntryBody } from "#contract/journal.ts";
import { ApiFailure } from "../../dashboard/data/api.ts";
import type { Keep } from "../../dashboard/data/keep.ts";
import { outbox, PICTURE_LOST } from "../../dashboard/data/outbox.ts";
import type { recordApi } from "../../dashboard/data/record-api.ts";
import { NoRoom, type PictureShelf, sendPicture, sweep, writePicture } from "../../dashboard/data/photo-box.ts";

const settled = () => new Promise((resolve) => setTimeout(resolve, 5));
const AT = "2026-02-03T12:00:00Z";
const floor = { did: "photographed" as const, at: AT, zone: "slip", of: "floor" as const, by: "Rosa" };
const away = () => Promise.reject(new ApiFailure("reach", 0, "no answer"));

/** A device and a server that outlive the page; each `open` is a page that was closed without a word before. */
function device() {
  const kept = new Map<string, unknown>();
  const shelf = new Map<string, { picture: Blob; putMs: number }>();
  const server = { up: true, photos: new Set<string>(), uploads: 0, entries: new Map<string, EntryBody>() };
  /** Where the page is killed: after the step, before its answer arrives. */
  const die: { at: "photo" | "entry" | null } = { at: null };
  const room = { shelf: true, keep: true };
  const keep: Keep = {
    read: (key) => structuredClone(kept.get(key) ?? null),
    write: (key, value) => room.keep && kept.set(key, structuredClone(value)) !== undefined,
    drop: () => {},
  };
  const pictures: PictureShelf = {
    async put(id, picture) {
      if (!room.shelf) throw new DOMException("full", "QuotaExceededError");
      shelf.set(id, { picture, putMs: 1000 });
    },
    get: async (id) => shelf.get(id)?.picture ?? null,
    drop: async (id) => void shelf.delete(id),
    ids: async (beforeMs) => [...shelf].filter(([, { putMs }]) => putMs < beforeMs).map(([id]) => id),
  };
  const never = new Promise<never>(() => {});
  async function sendPhoto(_site: string, picture: Blob): ReturnType<typeof recordApi.sendPhoto> {
    if (!server.up) return away();
    server.uploads += 1;
    const text = await picture.text();
    if (text.startsWith("not a picture")) throw new ApiFailure("refused", 422, "/: is no picture");
    const id = text.padEnd(64, "f");
    server.photos.add(id);
    if (die.at === "photo") return never;
    return { id, sentSha256: id, widthPx: 1, heightPx: 1, bytes: 1, heardAt: AT, by: null };
  }
  function open() {
    const later: (() => void)[] = [];
    const box = outbox(keep, {
      send: async (_site, entry) => {
        if (!server.up) return away();
        server.entries.set(entry.id ?? "", entry);
        return die.at === "entry" ? never : {};
      },
      sendPicture: (site, entry) => sendPicture(site, entry, pictures, sendPhoto),
      dropPicture: (id) => void pictures.drop(id),
      writer: () => null,
      sure: () => true,
      deviceNow: () => 1000,
      random: () => 1,
      later: (run) => later.push(run),
    });
    return {
      box,
      later,
      take: (text: string) => writePicture(box, "boathouse", floor, new Blob([text]), pictures, sendPhoto),
    };
  }
  return { kept, shelf, server, die, room, keep, pictures, open };
}

describe("a picture in the outbox", () => {
  it("goes before its entry, and the entry names it", async () => {
    const { open, server, shelf, kept } = device();
    await open().take("a");
    await settled();
    expect([...server.entries.values()]).toMatchObject([{ ...floor, photo: "a".padEnd(64, "f") }]);
    expect(shelf.size).toBe(0);
    expect(kept.get("outbox")).toEqual([]);
  });

  it("waits while the server is away, in its turn among the others, and through a reload", async () => {
    const { open, server, shelf } = device();
    server.up = false;
    const first = open();
    first.box.write("boathouse", { did: "washed", at: AT, zone: "slip" });
    await first.take("a");
    first.box.write("boathouse", { did: "cleaned", at: AT, zone: "slip" });
    await settled();
    expect(shelf.size).toBe(1);
    server.up = true;
    open().box.kick();
    await settled();
    expect([...server.entries.values()].map(({ did }) => did)).toEqual(["washed", "photographed", "cleaned"]);
    expect(server.photos.size).toBe(1);
    expect(shelf.size).toBe(0);
  });

  it.each(["photo", "entry"] as const)("is there once when the page dies after the %s was taken", async (at) => {
    const { open, server, shelf, die, kept } = device();
    die.at = at;
    await open().take("a");
    await settled();
    die.at = null;
    open().box.kick();
    await settled();
    expect(server.photos.size).toBe(1);
    expect([...server.entries.values()]).toMatchObject([{ photo: "a".padEnd(64, "f") }]);
    expect(kept.get("outbox")).toEqual([]);
    expect(shelf.size).toBe(0);
  });

  it("that the server refuses steps aside with the reason, and lets the next go on", async () => {
    const { open, server, shelf } = device();
    const { box, take } = open();
    await take("not a picture");
    box.write("boathouse", { did: "cleaned", at: AT, zone: "slip" });
    await settled();
    expect(box.signal.get().refused.map(({ why }) => why)).toEqual(["/: is no picture"]);
    expect([...server.entries.values()].map(({ did }) => did)).toEqual(["cleaned"]);
    expect(shelf.size).toBe(0);
  });

  it("that the device lost is told, and no entry goes without it", async () => {
    const { open, server, shelf } = device();
    server.up = false;
    const { box, take } = open();
    await take("a");
    await settled();
    shelf.clear();
    server.up = true;
    box.kick();
    await settled();
    expect(box.signal.get().refused.map(({ why }) => why)).toEqual([PICTURE_LOST]);
    expect(server.entries.size).toBe(0);
  });

  it("is dropped with its entry when it is taken back before that left", async () => {
    const { open, server, shelf } = device();
    server.up = false;
    const { box, take } = open();
    await take("a");
    await settled();
    box.undo(AT);
    expect(box.signal.get().waiting).toEqual([]);
    await settled();
    expect(shelf.size).toBe(0);
    server.up = true;
    box.kick();
    await settled();
    expect(server.entries.size).toBe(0);
  });

  it("taken back after it was sent is undone by an entry", async () => {
    const { open, server } = device();
    const { box, take } = open();
    await take("a");
    await settled();
    box.undo(AT);
    await settled();
    const [photo, undone] = [...server.entries.values()];
    expect(undone).toMatchObject({ did: "undone", undoes: photo?.id });
  });
});

describe("a full device", () => {
  it("sends the picture at once, and writes the entry with its name", async () => {
    const { open, server, room } = device();
    room.shelf = false;
    await open().take("a");
    await settled();
    expect([...server.entries.values()]).toMatchObject([{ photo: "a".padEnd(64, "f") }]);
  });

  it("without the server says that there is no room, and has written nothing; what was written before stays", async () => {
    const { open, server, room, shelf, kept } = device();
    server.up = false;
    const { box, take } = open();
    await take("a");
    room.shelf = false;
    await expect(take("b")).rejects.toBeInstanceOf(NoRoom);
    expect(box.signal.get().waiting).toHaveLength(1);
    expect(kept.get("outbox")).toHaveLength(1);
    expect(shelf.size).toBe(1);
  });

  it("says so when not even an entry can be kept, until there is room", async () => {
    const { open, server, room } = device();
    server.up = false;
    room.keep = false;
    const { box } = open();
    box.write("boathouse", { did: "washed", at: AT, zone: "slip" });
    expect(box.signal.get()).toMatchObject({ unkept: true, waiting: [{ entry: { did: "washed" } }] });
    room.keep = true;
    box.write("boathouse", { did: "cleaned", at: AT, zone: "slip" });
    expect(box.signal.get().unkept).toBe(false);
  });
});

describe("pictures that nothing waits for", () => {
  it("are dropped after a day, and no others", async () => {
    const { open, server, shelf, keep, pictures } = device();
    server.up = false;
    await open().take("a");
    await settled();
    shelf.set("orphan", { picture: new Blob(["b"]), putMs: 1000 });
    await sweep(keep, 2000, pictures);
    expect(shelf.size).toBe(2);
    await sweep(keep, 2 * 86_400_000, pictures);
    expect([...shelf.keys()]).not.toContain("orphan");
    expect(shelf.size).toBe(1);
  });
});
