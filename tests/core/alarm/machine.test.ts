// The machine, whatever it is shown: what stands is never lost by silence, nothing is said twice, and a replay says the same.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { NO_FACTS } from "#core/alarm/alarm.ts";
import { ALARM_KINDS, ALARM_LEVELS } from "#core/alarm/kinds.ts";
import {
  type AlarmEvent,
  type AlarmsState,
  answerAlarm,
  NO_ALARMS,
  standingAlarms,
  stepAlarms,
} from "#core/alarm/machine.ts";
import { ALARM_RULES, POUR_REPEATS, REPEATS } from "#core/alarm/rules.ts";
import { placeOf, type Report, type Sign } from "#core/alarm/sign.ts";

const MINUTE_MS = 60_000;
const T0 = Date.UTC(2026, 1, 3, 22);
const GROUPS = {
  dew: ["margin-ahead", "margin-below", "condensing"],
  heat: ["heat-lost"],
  silent: ["node-silent"],
} as const;

const sign = (group: string, member: string, kind: Sign["kind"], level: Sign["level"], order = 0): Sign => ({
  group,
  member,
  kind,
  level,
  zones: [member],
  order,
  facts: NO_FACTS,
});
const nothing: Report = { signs: [], fine: new Set() };
const shows = (...signs: Sign[]): Report => ({ signs, fine: new Set() });
const fine = (...signs: Sign[]): Report => ({ signs: [], fine: new Set(signs.map(placeOf)) });

const arbSign = fc
  .tuple(fc.constantFrom("dew", "heat", "silent"), fc.constantFrom("a", "b", "c"), fc.nat(2), fc.nat(2), fc.nat(9))
  .map(([group, member, kind, level, order]) => {
    const kinds = GROUPS[group as keyof typeof GROUPS];
    return sign(group, member, kinds[kind % kinds.length] as Sign["kind"], ALARM_LEVELS[level] ?? "tell", order);
  });
/** Each place is a sign, well, or not seen. */
const arbReport: fc.Arbitrary<Report> = fc
  .tuple(fc.array(arbSign, { maxLength: 6 }), fc.array(arbSign, { maxLength: 6 }))
  .map(([signs, well]) => {
    const bySign = new Map(signs.map((each) => [placeOf(each), each]));
    return { signs: [...bySign.values()], fine: new Set(well.map(placeOf).filter((place) => !bySign.has(place))) };
  });
/** What people do between two moments: nothing, or answer the newest alarm. */
const arbAnswer = fc.constantFrom<"none" | "acknowledge" | "snooze">("none", "none", "none", "acknowledge", "snooze");
const arbNight = fc.array(fc.tuple(arbReport, fc.integer({ min: 1, max: 40 }), arbAnswer), {
  minLength: 1,
  maxLength: 40,
});

interface Ran {
  readonly state: AlarmsState;
  readonly nowMs: number;
  readonly events: readonly AlarmEvent[];
}

/** `keep`: what a restart between two moments does to the state. */
function run(night: [Report, number, "none" | "acknowledge" | "snooze"][], keep = (state: AlarmsState) => state): Ran {
  let state = NO_ALARMS;
  let nowMs = T0;
  const events: AlarmEvent[] = [];
  for (const [report, minutes, answer] of night) {
    nowMs += minutes * MINUTE_MS;
    const stepped = stepAlarms("dock", keep(state), report, nowMs);
    state = stepped.state;
    events.push(...stepped.events);
    const [newest] = standingAlarms(state);
    if (answer === "none" || newest === undefined) continue;
    const untilMs = nowMs + 60 * MINUTE_MS;
    const said =
      answer === "snooze" ? ({ did: "snooze", by: "Ida", untilMs } as const) : ({ did: answer, by: "Ida" } as const);
    const answered = answerAlarm(state, newest.id, said, nowMs);
    if (answered === null) throw new Error("an alarm that stands could not be answered");
    state = answered.state;
    events.push(...answered.events);
  }
  return { state, nowMs, events };
}

describe("whatever a night shows", () => {
  it("the same night gives the same alarms, a restart between any two moments changes nothing", () => {
    fc.assert(
      fc.property(arbNight, (night) => {
        const once = run(night);
        expect(run(night)).toEqual(once);
        expect(run(night, (state) => JSON.parse(JSON.stringify(state)) as AlarmsState)).toEqual(once);
      }),
      { numRuns: 60 },
    );
  });

  it("not to know anything clears nothing and raises nothing", () => {
    fc.assert(
      fc.property(arbNight, fc.array(fc.integer({ min: 1, max: 600 }), { maxLength: 20 }), (night, gaps) => {
        let { state, nowMs } = run(night);
        const before = standingAlarms(state).map(({ id }) => id);
        const joined = new Set<string>();
        for (const minutes of gaps) {
          nowMs += minutes * MINUTE_MS;
          const stepped = stepAlarms("dock", state, nothing, nowMs);
          state = stepped.state;
          for (const { step, alarm } of stepped.events) {
            // A zone that joined is told when the last word is half an hour old.
            if (step.step === "worsened") expect(joined.has(alarm.id)).toBe(false);
            else expect(["escalated", "woken"]).toContain(step.step);
            if (step.step === "worsened") joined.add(alarm.id);
          }
        }
        expect(standingAlarms(state).map(({ id }) => id)).toEqual(before);
      }),
      { numRuns: 60 },
    );
  });

  it("an alarm is raised once, ends with its clearing, and its history is what was said of it", () => {
    fc.assert(
      fc.property(arbNight, (night) => {
        const { events } = run(night);
        for (const id of new Set(events.map(({ alarm }) => alarm.id))) {
          const own = events.filter(({ alarm }) => alarm.id === id);
          expect(own.map(({ step }) => step)).toEqual(own.at(-1)?.alarm.history);
          const words = own.map(({ step }) => step.step);
          expect(words[0]).toBe("raised");
          expect(words.filter((word) => word === "raised")).toHaveLength(1);
          expect(words.indexOf("cleared")).toBe(words.includes("cleared") ? words.length - 1 : -1);
        }
      }),
      { numRuns: 60 },
    );
  });

  it("what stands and is acknowledged is not said again while nothing gets worse", () => {
    fc.assert(
      fc.property(arbReport, fc.integer({ min: 1, max: 30 }), (report, minutes) => {
        let state = NO_ALARMS;
        let nowMs = T0;
        const on = (by: number) => {
          nowMs += by * MINUTE_MS;
          const stepped = stepAlarms("dock", state, report, nowMs);
          state = stepped.state;
          return stepped.events;
        };
        for (let round = 0; round < 40; round++) on(3);
        for (const { id } of standingAlarms(state))
          state = answerAlarm(state, id, { did: "acknowledge", by: "Ida" }, nowMs)?.state ?? state;
        for (let round = 0; round < 60; round++) expect(on(minutes)).toEqual([]);
      }),
      { numRuns: 40 },
    );
  });

  it("whoever does not answer is called again so many times and no more", () => {
    for (const kind of ALARM_KINDS) {
      const rule = ALARM_RULES[kind];
      const report = shows(sign("g", "a", kind, rule.level));
      let state = NO_ALARMS;
      let escalated = 0;
      for (let minute = 0; minute < 60 * 60; minute += 5) {
        const stepped = stepAlarms("dock", state, report, T0 + minute * MINUTE_MS);
        state = stepped.state;
        escalated += stepped.events.filter(({ step }) => step.step === "escalated").length;
      }
      expect(escalated, kind).toBe(kind === "stop-pour" ? POUR_REPEATS.times : (REPEATS[rule.level]?.times ?? 0));
    }
  });
});

describe("time", () => {
  const at = (state: AlarmsState, report: Report, minute: number) =>
    stepAlarms("dock", state, report, T0 + minute * MINUTE_MS);
  const below = sign("dew", "slip", "margin-below", "wake");

  it.each(ALARM_KINDS)("%s is raised when it has stood for its time and not before, cleared likewise", (kind) => {
    const { raiseAfterMin, clearAfterMin, level } = ALARM_RULES[kind];
    const one = sign("g", "a", kind, level);
    let state = NO_ALARMS;
    const raisedAt: number[] = [];
    for (let minute = 0; minute <= 200; minute++) {
      const stepped = at(state, shows(one), minute);
      state = stepped.state;
      if (stepped.events.some(({ step }) => step.step === "raised")) raisedAt.push(minute);
    }
    expect(raisedAt).toEqual([raiseAfterMin]);
    const clearedAt: number[] = [];
    for (let minute = 201; minute <= 400; minute++) {
      const stepped = at(state, fine(one), minute);
      state = stepped.state;
      if (stepped.events.some(({ step }) => step.step === "cleared")) clearedAt.push(minute);
    }
    expect(clearedAt).toEqual([201 + clearAfterMin]);
  });

  it("what flickers faster than its dwell neither rings nor ends", () => {
    let state = NO_ALARMS;
    const events: AlarmEvent[] = [];
    for (let minute = 0; minute < 600; minute++) {
      const stepped = at(state, minute % 4 === 3 ? fine(below) : shows(below), minute);
      state = stepped.state;
      events.push(...stepped.events);
    }
    expect(events).toEqual([]);
    for (let minute = 600; minute < 620; minute++) state = at(state, shows(below), minute).state;
    for (let minute = 620; minute < 900; minute++) {
      const stepped = at(state, minute % 20 === 0 ? shows(below) : fine(below), minute);
      state = stepped.state;
      events.push(...stepped.events.filter(({ step }) => step.step === "cleared"));
    }
    expect(events).toEqual([]);
  });

  it("a snooze ends by its time, or when it gets worse", () => {
    let { state } = at(NO_ALARMS, shows(below), 0);
    state = at(state, shows(below), 5).state;
    const id = standingAlarms(state)[0]?.id ?? "";
    const untilMs = T0 + 125 * MINUTE_MS;
    const snoozed = answerAlarm(state, id, { did: "snooze", by: "Ida", untilMs }, T0 + 6 * MINUTE_MS)?.state ?? state;
    expect(at(snoozed, shows(below), 124).events).toEqual([]);
    expect(at(snoozed, shows(below), 125).events.map(({ step }) => step.step)).toEqual(["woken"]);
    const worse = at(snoozed, shows(sign("dew", "slip", "condensing", "wake")), 30).events;
    expect(worse.map(({ step, alarm }) => `${step.step} ${alarm.state}`)).toEqual(["worsened open"]);
  });

  it("one answer stands, however often it is sent; what is over cannot be answered", () => {
    let { state } = at(NO_ALARMS, shows(sign("x", "", "stop-pour", "wake")), 0);
    const id = standingAlarms(state)[0]?.id ?? "";
    state = answerAlarm(state, id, { did: "acknowledge", by: "Ida" }, T0)?.state ?? state;
    const again = answerAlarm(state, id, { did: "acknowledge", by: "Bo" }, T0 + 1);
    expect(again?.events).toEqual([]);
    expect(standingAlarms(state)[0]).toMatchObject({ state: "acknowledged", acknowledgedBy: "Ida" });
    state = at(state, fine(sign("x", "", "stop-pour", "wake")), 1).state;
    expect(answerAlarm(state, id, { did: "acknowledge", by: "Bo" }, T0)).toBeNull();
  });
});
