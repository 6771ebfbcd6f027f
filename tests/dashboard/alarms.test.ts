// Answers to alarms on their way, what a person types of a contact, and the words of alarms on the screen.
import { describe, expect, it } from "vitest";
import type { ContactBody } from "#contract/notify.ts";
import { ContactWishSchema } from "#contract/notify.ts";
import { Compile } from "typebox/compile";
import { ALARM_KINDS, ALARM_LEVELS, ALARM_STEPS } from "#core/alarm/kinds.ts";
import { ApiFailure } from "../../dashboard/data/api.ts";
import { type AlarmAnswer, answerDesk } from "../../dashboard/data/answers.ts";
import type { Keep } from "../../dashboard/data/keep.ts";
import { draftOf, faultsOf, hookWishOf, wishOf } from "../../dashboard/features/alarms/contact-draft.ts";
import { byWeight } from "../../dashboard/features/alarms/said.ts";
import { alarmsText } from "../../dashboard/text/alarms.ts";
import { sampleAlarm } from "../support/sample-alarms.ts";
import { DICTIONARIES } from "./voice.ts";

const settled = () => new Promise((resolve) => setTimeout(resolve, 5));
const HERE = { site: "boathouse", alarm: "a1", by: "Rosa", untilAt: null };

function deskWith(answer: () => Promise<unknown>, who: { writer: string | null; sure: boolean }, kept: unknown = null) {
  const memory = { kept };
  const keep: Keep = { read: () => memory.kept, write: (_key, value) => ((memory.kept = value), true), drop: () => {} };
  const sent: AlarmAnswer[] = [];
  const taken: string[] = [];
  const later: (() => void)[] = [];
  const desk = answerDesk(keep, {
    async send(one) {
      sent.push(one);
      await answer();
      return sampleAlarm({ id: one.alarm, state: "acknowledged" });
    },
    taken: (_answer, alarm) => void taken.push(alarm.state),
    writer: () => who.writer,
    sure: () => who.sure,
    random: () => 1,
    later: (run) => later.push(run),
  });
  return { desk, sent, taken, later, memory };
}

describe("answers to alarms", () => {
  it("are sent at once, and what the server says of the alarm is shown", async () => {
    const { desk, taken, memory } = deskWith(() => Promise.resolve(), { writer: null, sure: true });
    desk.give(HERE);
    await settled();
    expect(taken).toEqual(["acknowledged"]);
    expect([desk.signal.get(), memory.kept]).toEqual([[], []]);
  });

  it("wait for the server through a reload, and say that they were not delivered", async () => {
    const first = deskWith(() => Promise.reject(new ApiFailure("reach", 0, "no answer")), { writer: null, sure: true });
    first.desk.give(HERE);
    await settled();
    expect(first.desk.signal.get()).toMatchObject([{ alarm: "a1", tried: true, refused: null }]);
    expect(first.later).toHaveLength(1);
    const second = deskWith(() => Promise.resolve(), { writer: null, sure: true }, first.memory.kept);
    await settled();
    expect(second.sent).toHaveLength(1);
    expect(second.desk.signal.get()).toEqual([]);
  });

  it("that were refused stand with the reason until they are put away", async () => {
    const { desk, later } = deskWith(() => Promise.reject(new ApiFailure("refused", 409, "it is over")), {
      writer: null,
      sure: true,
    });
    desk.give(HERE);
    await settled();
    expect(desk.signal.get()).toMatchObject([{ refused: "it is over" }]);
    expect(later).toEqual([]);
    desk.putAway("a1");
    expect(desk.signal.get()).toEqual([]);
  });

  it("go under no other name, and not before the server has said whose it is", async () => {
    const who = { writer: "Rosa" as string | null, sure: false };
    const { desk, sent } = deskWith(() => Promise.resolve(), who);
    desk.give(HERE);
    await settled();
    expect(sent).toEqual([]);
    who.sure = true;
    who.writer = "Luis";
    desk.kick();
    await settled();
    expect(sent).toEqual([]);
    who.writer = "Rosa";
    desk.kick();
    await settled();
    expect(sent).toMatchObject([{ writer: "Rosa" }]);
  });

  it("the last word on an alarm counts", async () => {
    const who = { writer: null, sure: false };
    const { desk, sent } = deskWith(() => Promise.resolve(), who);
    desk.give(HERE);
    desk.give({ ...HERE, untilAt: "2026-02-03T13:00:00Z" });
    who.sure = true;
    desk.kick();
    await settled();
    expect(sent.map(({ untilAt }) => untilAt)).toEqual(["2026-02-03T13:00:00Z"]);
  });
});

const CONTACT: ContactBody = {
  ...{ id: "c-1", person: null, name: "Rosa Lindt", language: "es", units: "si", quiet: null, allWellAt: "05:30" },
  sites: [
    { site: "mill", zones: null },
    { site: "boathouse", zones: ["slip"] },
  ],
  mail: { address: "rosa@lindt.example", levels: ["wake"] },
  pushLevels: [],
  ways: [],
};

describe("a contact as it is typed", () => {
  const first = { name: "Ada", language: "en", units: "us" } as const;
  it("stays as it is when nothing is changed, other sites too", () => {
    const { id: _id, person: _person, ways: _ways, ...same } = CONTACT;
    const wish = wishOf(draftOf(CONTACT, "boathouse", first), CONTACT, "boathouse");
    expect(wish).toEqual(same);
    expect(hookWishOf(draftOf(CONTACT, "boathouse", first))).toEqual({});
  });
  it("begins with everything on, quiet at night, and is what the contract asks for", () => {
    const draft = { ...draftOf(null, "boathouse", first), mail: " ada@ruiz.example " };
    expect(faultsOf(draft).size).toBe(0);
    const wish = { ...wishOf(draft, null, "boathouse"), ...hookWishOf({ ...draft, hook: "http://hook.example/x" }) };
    expect(Compile(ContactWishSchema).Errors(wish)).toEqual([]);
    expect(wish).toMatchObject({
      sites: null,
      mail: { address: "ada@ruiz.example", levels: ["wake", "tell"] },
      quiet: { from: "20:00", to: "06:00" },
    });
  });
  it("names each field that is wrong", () => {
    const draft = {
      ...draftOf(null, "boathouse", { ...first, name: " " }),
      ...{ mail: "ada", quietFrom: "25:00", allWell: true, allWellAt: "", cares: "zones" as const, hook: "ftp://x" },
    };
    expect([...faultsOf(draft)].sort()).toEqual(["allWell", "hook", "mail", "name", "quiet", "zones"]);
  });
});

describe("alarms on the screen", () => {
  it("stand loudest first, then the newest", () => {
    const alarms = [
      sampleAlarm({ id: "noted", level: "list" }),
      sampleAlarm({ id: "old", raisedAt: "2026-02-03T01:00:00Z" }),
      sampleAlarm({ id: "told", level: "tell" }),
      sampleAlarm({ id: "new" }),
    ];
    expect(byWeight(alarms).map(({ id }) => id)).toEqual(["new", "old", "told", "noted"]);
  });
  it("have a word for every kind, level and step, another one in each language and for each", () => {
    const words = (language: keyof typeof DICTIONARIES) => {
      const { kinds, levels, steps } = alarmsText(DICTIONARIES[language]);
      return [
        ...ALARM_KINDS.map((kind) => kinds[kind]),
        ...ALARM_LEVELS.map((one) => levels[one]),
        ...ALARM_STEPS.map((one) => steps[one]),
      ];
    };
    for (const language of ["en", "es"] as const) {
      expect(words(language).every((word) => word.length > 2)).toBe(true);
      expect(new Set(words(language)).size).toBe(words(language).length);
    }
  });
});
