// Journal entries on their way: kept, in order, once each, and taken back.
import { describe, expect, it } from "vitest";
import type { EntryBody } from "#contract/journal.ts";
import { ApiFailure } from "../../dashboard/data/api.ts";
import type { Keep } from "../../dashboard/data/keep.ts";
import { newEntryId, outbox } from "../../dashboard/data/outbox.ts";

const entry = (did: "washed" | "cleaned"): EntryBody => ({ did, at: "2026-02-03T12:00:00Z", zone: "slip" });
const NO_PICTURES = { sendPicture: () => Promise.reject(new Error("none waits")), dropPicture: () => {} };
const settled = () => new Promise((resolve) => setTimeout(resolve, 5));

function boxWith(answer: (sent: EntryBody) => Promise<unknown>, kept: unknown = null) {
  const memory = { kept };
  const keep: Keep = { read: () => memory.kept, write: (_key, value) => ((memory.kept = value), true), drop: () => {} };
  const sent: EntryBody[] = [];
  const later: (() => void)[] = [];
  const box = outbox(keep, {
    send: (_site, one) => {
      sent.push(one);
      return answer(one);
    },
    ...NO_PICTURES,
    writer: () => null,
    sure: () => true,
    deviceNow: () => 1000,
    random: () => 1,
    later: (run) => later.push(run),
  });
  return { box, sent, later, memory };
}

const unreachable = () => Promise.reject(new ApiFailure("reach", 0, "no answer"));

describe("the outbox", () => {
  it("sends in order and forgets what was answered", async () => {
    const { box, sent, memory } = boxWith(() => Promise.resolve({}));
    box.write("boathouse", entry("washed"));
    box.write("boathouse", entry("cleaned"));
    await settled();
    expect(sent.map((one) => one.did)).toEqual(["washed", "cleaned"]);
    expect(memory.kept).toEqual([]);
    expect(box.signal.get().last).toMatchObject({ sent: true, entry: { did: "cleaned" } });
  });

  it("keeps what could not be sent, through a reload, under the same id", async () => {
    const first = boxWith(unreachable);
    first.box.write("boathouse", entry("washed"));
    first.box.write("boathouse", entry("cleaned"));
    await settled();
    expect(first.sent.map((one) => one.did)).toEqual(["washed"]);
    expect(first.later).toHaveLength(1);
    const second = boxWith(() => Promise.resolve({}), first.memory.kept);
    second.box.kick();
    await settled();
    expect(second.sent.map((one) => one.did)).toEqual(["washed", "cleaned"]);
    expect(second.sent[0]?.id).toBe(first.sent[0]?.id);
  });

  it("tries again by itself", async () => {
    let up = false;
    const { box, sent, later } = boxWith(() => (up ? Promise.resolve({}) : unreachable()));
    box.write("boathouse", entry("washed"));
    await settled();
    up = true;
    later[0]?.();
    await settled();
    expect(sent).toHaveLength(2);
    expect(box.signal.get().waiting).toEqual([]);
  });

  it("a refused entry steps aside, says why, and lets the next go on", async () => {
    const { box, sent } = boxWith((one) =>
      one.did === "washed" ? Promise.reject(new ApiFailure("refused", 422, "/zone: is missing")) : Promise.resolve({}),
    );
    box.write("boathouse", entry("washed"));
    box.write("boathouse", entry("cleaned"));
    await settled();
    expect(sent).toHaveLength(2);
    const { refused } = box.signal.get();
    expect(refused.map((one) => one.why)).toEqual(["/zone: is missing"]);
    box.putAwayRefused(refused[0]!.entry.id);
    expect(box.signal.get().refused).toEqual([]);
  });

  it("undoes a sent entry by an entry of its own", async () => {
    const { box, sent } = boxWith(() => Promise.resolve({}));
    box.write("boathouse", { ...entry("washed"), by: "Rosa" });
    await settled();
    box.undo("2026-02-03T12:00:30Z");
    await settled();
    expect(sent[1]).toMatchObject({
      did: "undone",
      undoes: sent[0]?.id,
      zone: "slip",
      by: "Rosa",
      at: "2026-02-03T12:00:30Z",
    });
    expect(sent[1]?.id).not.toBe(sent[0]?.id);
    expect(box.signal.get().last).toBeNull();
  });

  it("drops what certainly never left, and undoes what may have", async () => {
    const { box } = boxWith(unreachable);
    box.write("boathouse", entry("washed"));
    box.write("boathouse", entry("cleaned"));
    await settled();
    box.undo("2026-02-03T12:00:30Z");
    expect(box.signal.get().waiting.map((one) => one.entry.did)).toEqual(["washed"]);
    const other = boxWith(unreachable);
    other.box.write("boathouse", entry("washed"));
    await settled();
    other.box.undo("2026-02-03T12:00:30Z");
    expect(other.box.signal.get().waiting.map((one) => one.entry.did)).toEqual(["washed", "undone"]);
  });

  it("makes ids that the contract takes, all different", () => {
    const ids = Array.from({ length: 200 }, newEntryId);
    for (const id of ids) expect(id).toMatch(/^[A-Za-z0-9][A-Za-z0-9._:-]{0,99}$/);
    expect(new Set(ids).size).toBe(200);
  });

  it("reads nonsense in the storage as nothing", () => {
    expect(boxWith(unreachable, { a: 1 }).box.signal.get().waiting).toEqual([]);
    expect(boxWith(unreachable, [null, { site: "x" }]).box.signal.get().waiting).toEqual([]);
  });
});

describe("the outbox of a phone that several people use", () => {
  /** Everybody on it shares the storage; `who` is whoever is signed in, undefined = nobody. */
  function sharedBox(answer: (sent: EntryBody) => Promise<unknown>) {
    const memory: { kept: unknown } = { kept: null };
    const now: { who: string | null | undefined; sure: boolean } = { who: "Rosa", sure: true };
    const sent: { readonly who: string | null | undefined; readonly entry: EntryBody }[] = [];
    const later: (() => void)[] = [];
    const box = outbox(
      { read: () => memory.kept, write: (_key, value) => ((memory.kept = value), true), drop: () => {} },
      {
        send: (_site, one) => {
          sent.push({ who: now.who, entry: one });
          return answer(one);
        },
        ...NO_PICTURES,
        writer: () => now.who,
        sure: () => now.sure,
        deviceNow: () => 1000,
        random: () => 1,
        later: (run) => later.push(run),
      },
    );
    const become = (who: string | null | undefined) => {
      now.who = who;
      box.regard();
    };
    return { box, now, sent, later, memory, become };
  }

  it("keeps what one wrote while another is signed in, and sends it when the first comes back", async () => {
    let up = false;
    const { box, sent, become, later } = sharedBox(() => (up ? Promise.resolve({}) : unreachable()));
    box.write("boathouse", { ...entry("washed"), by: "Rosa" });
    await settled();
    become(undefined);
    expect(box.signal.get()).toMatchObject({ waiting: [], last: null, held: [{ writer: "Rosa" }] });
    up = true;
    become("Luis");
    later[0]?.();
    await settled();
    box.write("boathouse", { ...entry("cleaned"), by: "Luis" });
    await settled();
    become("Rosa");
    await settled();
    expect(sent.slice(1).map(({ who, entry: one }) => [who, one.by])).toEqual([
      ["Luis", "Luis"],
      ["Rosa", "Rosa"],
    ]);
    expect(box.signal.get()).toMatchObject({ waiting: [], held: [] });
  });

  it("a session that has ended refuses nothing: the entry waits for its writer", async () => {
    let inside = false;
    const { box, become, sent } = sharedBox(() =>
      inside ? Promise.resolve({}) : Promise.reject(new ApiFailure("refused", 401, "Sign in")),
    );
    box.write("boathouse", entry("washed"));
    await settled();
    become(undefined);
    expect(box.signal.get()).toMatchObject({ refused: [], held: [{ writer: "Rosa" }] });
    inside = true;
    become("Rosa");
    await settled();
    expect(sent).toHaveLength(2);
    expect(box.signal.get()).toMatchObject({ waiting: [], held: [] });
  });

  it("sends nothing before the server has said who is signed in", async () => {
    const { box, now, sent, become } = sharedBox(() => Promise.resolve({}));
    now.sure = false;
    box.write("boathouse", entry("washed"));
    await settled();
    expect(sent).toEqual([]);
    now.sure = true;
    become("Rosa");
    await settled();
    expect(sent).toHaveLength(1);
  });

  it("what was written before anybody had to sign in goes only when somebody says that it is theirs", async () => {
    const { box, sent, become } = sharedBox((one) => (one.by === "Luis" ? Promise.resolve({}) : unreachable()));
    become(null);
    box.write("boathouse", { ...entry("washed"), by: "the morning crew" });
    await settled();
    become("Luis");
    await settled();
    expect(sent).toHaveLength(1);
    expect(box.signal.get().held).toMatchObject([{ writer: null }]);
    box.adopt();
    await settled();
    expect(sent[1]).toMatchObject({ who: "Luis", entry: { by: "Luis", did: "washed" } });
    expect(box.signal.get()).toMatchObject({ waiting: [], held: [] });
  });

  it("survives a reload with everybody's entries", async () => {
    const first = sharedBox(unreachable);
    first.box.write("boathouse", entry("washed"));
    await settled();
    first.become("Luis");
    first.box.write("boathouse", entry("cleaned"));
    await settled();
    expect(first.memory.kept).toMatchObject([{ writer: "Rosa" }, { writer: "Luis" }]);
    const again = boxWith(() => Promise.resolve({}), first.memory.kept);
    expect(again.box.signal.get()).toMatchObject({ waiting: [], held: [{ writer: "Rosa" }, { writer: "Luis" }] });
  });

  it("puts away what nobody will ever send", async () => {
    const { box, become } = sharedBox(unreachable);
    become(null);
    box.write("boathouse", entry("washed"));
    await settled();
    become("Luis");
    box.putAwayHeld(box.signal.get().held[0]!.entry.id);
    expect(box.signal.get().held).toEqual([]);
  });
});
