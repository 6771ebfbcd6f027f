// Who is told of what: by examples, and over random houses.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Reach, type SentLevel, whom } from "../../server/notify/whom.ts";
import { quietUntil, wallClock } from "../../server/notify/quiet.ts";
import { NIGHT_MS, sampleAlarm, stepAt } from "./sample-alarm.ts";

const ZONE = "America/Chicago";
const way = (id: string, levels: readonly SentLevel[] = ["wake", "tell"], failing = false) => ({ id, levels, failing });
const reach = (id: string, wish: Partial<Reach> = {}): Reach => ({
  id,
  name: id.toUpperCase(),
  sites: null,
  quiet: { from: "21:00", to: "06:00" },
  ways: [way("mail")],
  ...wish,
});
const about = (order: readonly string[], told: readonly string[] = []) => ({
  order,
  timezone: ZONE,
  told: new Set(told),
  nowMs: NIGHT_MS,
});
const raised = stepAt("raised", NIGHT_MS);
const shown = (found: ReturnType<typeof whom>) =>
  found.map(({ contact, way: by, level }) => `${contact} ${by} ${level}`);

describe("in the night", () => {
  const six = Date.parse("2026-02-04T12:00:00Z");
  it("wakes the first on call; the others are told at the end of their quiet hours", () => {
    const found = whom(sampleAlarm([raised]), raised, [reach("ada"), reach("bo")], about(["bo", "ada"]));
    expect(shown(found)).toEqual(["bo mail wake", "ada mail tell"]);
    expect(found.map(({ notBeforeMs }) => notBeforeMs)).toEqual([NIGHT_MS, six]);
  });
  it("wakes the next when nobody answers, and does not tell the rest of every repeat", () => {
    const again = stepAt("escalated", NIGHT_MS + 600_000);
    const found = whom(
      sampleAlarm([raised, again]),
      again,
      [reach("ada"), reach("bo"), reach("cy")],
      about(["bo", "ada"]),
    );
    expect(shown(found)).toEqual(["bo mail wake", "ada mail wake"]);
  });
  it("goes on to the next at once where all ways of the first fail, and tries those too", () => {
    const bo = reach("bo", { ways: [way("mail", ["wake"], true), way("p-1", ["tell"], true)] });
    const found = whom(sampleAlarm([raised]), raised, [bo, reach("ada")], about(["bo", "ada"]));
    expect(shown(found)).toEqual(["bo mail wake", "bo p-1 wake", "ada mail wake"]);
  });
  it("wakes everybody who cares without an order, and nobody who cares for another zone", () => {
    const other = reach("di", { sites: [{ site: "boathouse", zones: ["loft"] }] });
    const found = whom(sampleAlarm([raised]), raised, [reach("ada"), reach("bo"), other], about([]));
    expect(shown(found)).toEqual(["ada mail wake", "bo mail wake"]);
  });
  it("rather wakes by a way that was not chosen for it than nobody", () => {
    const quietly = reach("ada", { ways: [way("mail", ["tell"])] });
    expect(shown(whom(sampleAlarm([raised]), raised, [quietly], about(["ada"])))).toEqual(["ada mail wake"]);
  });
  it("what is only told waits for the morning, what is only listed goes nowhere", () => {
    const told = stepAt("raised", NIGHT_MS, "tell");
    const found = whom(sampleAlarm([told]), told, [reach("ada")], about(["ada"]));
    expect(found).toEqual([{ contact: "ada", way: "mail", level: "tell", notBeforeMs: six }]);
    const listed = stepAt("raised", NIGHT_MS, "list");
    expect(whom(sampleAlarm([listed]), listed, [reach("ada")], about(["ada"]))).toEqual([]);
  });
  it("who was told learns who has it, and the one who has it does not", () => {
    const taken = stepAt("acknowledged", NIGHT_MS + 60_000, "wake", "BO");
    const found = whom(
      sampleAlarm([raised, taken]),
      taken,
      [reach("ada"), reach("bo"), reach("cy")],
      about(["bo", "ada"], ["ada", "bo"]),
    );
    expect(shown(found)).toEqual(["ada mail tell"]);
  });
});

describe("quiet hours", () => {
  const night = { from: "21:00", to: "06:00" };
  // Clocks in the United States: forward on 8 March 2026 at 02:00, back on 1 November 2026 at 02:00 (Energy Policy Act of 2005).
  it.each([
    ["over midnight, before it", "2026-02-04T04:30:00Z", night, "2026-02-04T12:00:00Z"],
    ["over midnight, after it", "2026-02-04T08:10:00Z", night, "2026-02-04T12:00:00Z"],
    ["outside", "2026-02-04T18:00:00Z", night, null],
    ["at its end", "2026-02-04T12:00:00Z", night, null],
    ["at its beginning", "2026-02-04T03:00:00Z", night, "2026-02-04T12:00:00Z"],
    ["within a day", "2026-02-04T19:00:00Z", { from: "12:00", to: "14:00" }, "2026-02-04T20:00:00Z"],
    ["never", "2026-02-04T19:00:00Z", { from: "12:00", to: "12:00" }, null],
    ["a night that is an hour short", "2026-03-08T05:00:00Z", night, "2026-03-08T11:00:00Z"],
    ["a night that is an hour long", "2026-11-01T05:00:00Z", night, "2026-11-01T12:00:00Z"],
    ["an end that is left out", "2026-03-08T07:00:00Z", { from: "21:00", to: "02:30" }, "2026-03-08T08:30:00Z"],
    [
      "an end that comes twice, the first",
      "2026-11-01T05:00:00Z",
      { from: "21:00", to: "01:30" },
      "2026-11-01T06:30:00Z",
    ],
  ])("%s", (_what, now, quiet, end) => {
    const found = quietUntil(quiet, ZONE, Date.parse(now));
    expect(found === null ? null : new Date(found).toISOString().replace(".000Z", "Z")).toBe(end);
  });

  const clock = fc.integer({ min: 0, max: 1439 }).map((m) => {
    const two = (value: number) => String(value).padStart(2, "0");
    return `${two(Math.floor(m / 60))}:${two(m % 60)}`;
  });
  it("end later than now, within 25 hours, in every zone", () => {
    const anyZone = fc.constantFrom("America/Chicago", "Europe/Madrid", "Australia/Lord_Howe", "Asia/Kathmandu", "UTC");
    const year = fc.integer({ min: Date.UTC(2026, 0, 1), max: Date.UTC(2027, 0, 1) });
    fc.assert(
      fc.property(fc.record({ from: clock, to: clock }), anyZone, year, (quiet, zone, nowMs) => {
        const end = quietUntil(quiet, zone, nowMs);
        if (end === null) return;
        expect(end).toBeGreaterThan(nowMs);
        expect(end - nowMs).toBeLessThanOrEqual(25 * 3_600_000);
        if (quietUntil(quiet, zone, end) !== null) {
          // Only where the clock is set within the quiet hours can their end lie in them again.
          const hourBefore = wallClock(zone)(end - 3_600_000).minute;
          expect((wallClock(zone)(end).minute - hourBefore + 1440) % 1440).not.toBe(60);
        }
      }),
      { numRuns: 300 },
    );
  });
});

describe("over random houses", () => {
  const levels = fc.subarray<SentLevel>(["wake", "tell"]);
  const ways = fc.uniqueArray(
    fc.record({ id: fc.constantFrom("mail", "webhook", "p-1", "p-2"), levels, failing: fc.boolean() }),
    { selector: ({ id }) => id, maxLength: 3 },
  );
  const cares = fc.option(
    fc.array(
      fc.record({
        site: fc.constantFrom("boathouse", "barn"),
        zones: fc.option(fc.subarray(["slip", "loft"]), { nil: null }),
      }),
      { maxLength: 2 },
    ),
    { nil: null },
  );
  const quiet = fc.option(fc.constant({ from: "21:00", to: "06:00" }), { nil: null });
  const house = fc.uniqueArray(
    fc.record({ id: fc.constantFrom("ada", "bo", "cy", "di", "ed"), sites: cares, quiet, ways }),
    { selector: ({ id }) => id, maxLength: 5 },
  );
  const steps = fc.constantFrom("raised", "worsened", "escalated", "acknowledged", "snoozed", "woken", "cleared");
  const level = fc.constantFrom("list", "tell", "wake");
  const order = fc.shuffledSubarray(["ada", "bo", "cy", "di", "ed", "gone"]);
  const told = fc.subarray(["ada", "bo", "cy", "di", "ed"]);

  it("nobody is told twice, only by ways that they have, and a wake reaches somebody now if anybody has a way", () => {
    fc.assert(
      fc.property(
        house,
        order,
        told,
        steps,
        level,
        fc.integer({ min: 0, max: 6 }),
        (people, onCall, before, word, loud, repeats) => {
          const contacts = people.map((one) => ({ ...one, name: one.id }));
          const step = stepAt(word, NIGHT_MS, loud);
          const history = [raised, ...Array.from({ length: repeats }, () => stepAt("escalated", NIGHT_MS)), step];
          const found = whom(sampleAlarm(history), step, contacts, about(onCall, before));
          const keys = found.map(({ contact, way: by }) => `${contact}/${by}`);
          expect(new Set(keys).size).toBe(keys.length);
          for (const { contact, way: by, notBeforeMs } of found) {
            expect(contacts.find(({ id }) => id === contact)?.ways.map(({ id }) => id)).toContain(by);
            expect(notBeforeMs).toBeGreaterThanOrEqual(NIGHT_MS);
          }
          if (loud === "list") expect(found).toEqual([]);
          const isNews = ["raised", "worsened", "escalated", "woken"].includes(word);
          if (loud !== "wake" || !isNews) expect(found.filter((one) => one.level === "wake")).toEqual([]);
          else if (contacts.some((one) => one.ways.length > 0))
            expect(found.some((one) => one.level === "wake" && one.notBeforeMs === NIGHT_MS)).toBe(true);
          for (const one of found.filter(({ level: sent }) => sent === "tell")) {
            const of = contacts.find(({ id }) => id === one.contact);
            expect(quietUntil(of?.quiet ?? null, ZONE, one.notBeforeMs)).toBeNull();
          }
        },
      ),
      { numRuns: 500 },
    );
  });
});
