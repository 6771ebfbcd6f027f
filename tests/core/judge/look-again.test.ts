// A zone looked at again says what judging it anew says, or asks for that.
import { describe, expect, it } from "vitest";
import { judgeToLook } from "../../../server/core/judge/judge.ts";
import type { Judged } from "../../../server/core/judge/judged.ts";
import { type Again, callNow, LOOK_WITHIN_MS, lookAgain } from "../../../server/core/judge/look-again.ts";
import type { RuleId } from "../../../server/core/judge/call.ts";
import type { JournalEntry } from "../../../server/core/zone/journal.ts";
import { upperIndex } from "../../../server/core/zone/heard.ts";
import type { FeedFetch, PlainLog } from "../../../server/core/zone/site.ts";
import { entry, HOUR_MS, MINUTE_MS } from "../../support/night-log.ts";
import { type Random, randomNight } from "../../support/random-night.ts";

interface LiveSeries {
  readonly node: string;
  readonly quantity: string;
  readonly atMs: number[];
  readonly values: number[];
  readonly heardMs: number[];
}

/** A log that grows in place, as that of a running server does. */
interface LiveLog extends PlainLog {
  readonly series: readonly LiveSeries[];
  readonly journal: JournalEntry[];
  readonly feeds: FeedFetch[];
}

/** The log of a random night as it stood at a moment: nothing in it that had not been heard. */
function liveLog(log: PlainLog, untilMs: number): LiveLog {
  return {
    ...log,
    journal: log.journal.filter(({ atMs, heardMs }) => atMs <= untilMs && heardMs <= untilMs),
    feeds: [...log.feeds],
    series: log.series.map(({ node, quantity, atMs, values, heardMs }) => {
      const heard = heardMs.flatMap((at, index) =>
        at <= untilMs && (atMs[index] as number) <= untilMs ? [index] : [],
      );
      const of = (column: readonly number[]) => heard.map((index) => column[index] as number);
      return { node, quantity, atMs: of(atMs), values: of(values), heardMs: of(heardMs) };
    }),
  };
}

function hear(series: LiveSeries, takenMs: number, value: number, heardMs: number): void {
  const at = upperIndex(series.atMs, takenMs);
  if (series.atMs[at - 1] === takenMs) return;
  series.atMs.splice(at, 0, takenMs);
  series.values.splice(at, 0, value);
  series.heardMs.splice(at, 0, heardMs);
}

/** Rules of the present readings alone. A fault, the film and the night are for a judging to see. */
const PRESENT: readonly RuleId[] = [
  ...(["frost", "condensing", "slab-cold", "slab-hot", "air-cold", "air-hot", "air-damp", "air-dry"] as const),
  ...(["dew-margin", "slab-rising", "hand-check", "not-sustained"] as const),
];

/** The call of a judging, or of the last look. */
const shownOf = (one: Judged | Again) => ("now" in one ? callNow(one) : one.call);
const outcomesOf = (one: Judged | Again, ids: readonly RuleId[]) =>
  shownOf(one)
    .rules.filter(({ rule }) => ids.includes(rule))
    .map(({ rule, outcome }) => `${rule} ${outcome === "stop"}`);

/** What only a judging can tell: who may speak, and what is doubted. */
const trusted = (again: Again) =>
  JSON.stringify([
    again.facts.doubts.map(({ probe, kind, measured }) => [probe, kind, kind === "off-from-hand" ? 0 : measured]),
    [...again.recent.voices.quarantinedSlab, ...again.recent.voices.quarantinedChips],
    [again.recent.slab, again.recent.chips, again.facts.unknownVote, again.facts.handStandsIn],
    // Good hours of a film that are over change its limits.
    again.facts.limits,
  ]);
const bridged = ({ recent }: Again) => recent.votes.slab.size + recent.votes.chips.size > 0;

interface Tally {
  stood: number;
  bridged: number;
  anew: number;
  trust: number;
  turned: number;
}

/** Ten minutes of packets: each is looked at, and held against a judging of its own. */
function tenMinutes(log: LiveLog, startMs: number, random: Random, everyMs: number, tally: Tally): void {
  let nowMs = startMs;
  const silent = random.chance(0.3) ? random.pick(log.series) : null;
  // Some have been silent for longer than a reading speaks, and are taken at their worst.
  const gone = random.chance(0.7) ? startMs - random.between(35, 80) * MINUTE_MS : startMs;
  while (silent !== null && (silent.atMs.at(-1) ?? gone) > gone)
    for (const column of [silent.atMs, silent.values, silent.heardMs]) column.pop();
  let judged = judgeToLook(log, "a", nowMs);
  let again = judged.again ?? null;
  const lasts = new Map(log.series.map((series) => [series, series.values.at(-1) ?? 15]));
  const driftK = random.between(-0.02, 0.02);
  while (nowMs < startMs + 10 * MINUTE_MS) {
    nowMs += Math.ceil(random.between(0.2, 1) * everyMs);
    const node = random.pick(log.nodes).id;
    const takenMs = nowMs - random.pick([0, 500, 2000, 20_000]);
    for (const series of log.series.filter((one) => one.node === node && one !== silent)) {
      const value = (lasts.get(series) as number) + driftK + random.between(-0.03, 0.03);
      lasts.set(series, value);
      const [lateMs, wildK] = [random.chance(0.02) ? random.between(0.01, 40) * HOUR_MS : 0, random.chance(0.03)];
      const odd = random.chance(0.01) ? 85 : value + (wildK ? random.between(-3, 3) : 0);
      hear(series, Math.floor(takenMs - lateMs), odd, nowMs);
    }
    if (random.chance(0.02)) log.journal.push({ ...entry("cleaned", nowMs - 1000), id: `e${nowMs}` });
    const fresh = judgeToLook(log, "a", nowMs);
    const seen = again === null ? null : lookAgain(again, log, nowMs);
    if (seen === null) {
      tally.anew++;
      if (again !== null && outcomesOf(fresh, PRESENT).join() !== outcomesOf(judged, PRESENT).join()) tally.turned++;
      judged = fresh;
      again = fresh.again ?? null;
      continue;
    }
    again = seen;
    const freshAgain = fresh.again ?? null;
    if (freshAgain === null || trusted(freshAgain) !== trusted(seen)) {
      tally.trust++;
      judged = fresh;
      again = freshAgain;
      continue;
    }
    const shown = callNow(seen);
    expect(shown.atMs).toBe(nowMs);
    expect([shown.call, shown.limiting]).toEqual([judged.call.call, judged.call.limiting]);
    expect(outcomesOf(seen, PRESENT)).toEqual(outcomesOf(fresh, PRESENT));
    if (bridged(seen)) {
      tally.bridged++;
      for (const key of ["slabColdC", "dewPointC", "marginK", "airC"] as const)
        expect(Math.abs((shown.conditions[key] ?? 0) - (fresh.call.conditions[key] ?? 0))).toBeLessThan(0.05);
    } else {
      tally.stood++;
      expect(shown.conditions).toEqual(fresh.call.conditions);
      expect(seen.now.facts.limits).toEqual(freshAgain.facts.limits);
      const measured = (one: Again | Judged) =>
        shownOf(one)
          .rules.filter(({ rule }) => PRESENT.includes(rule))
          .map((rule) => [rule.rule, rule.measured, rule.probe]);
      expect(measured(seen)).toEqual(measured(fresh));
    }
    if (random.chance(0.1)) {
      judged = fresh;
      again = freshAgain;
    }
  }
}

describe("a zone looked at again", () => {
  it("has the conditions and present outcomes of a judging, over random packets, or is judged anew", () => {
    const tally: Tally = { stood: 0, bridged: 0, anew: 0, trust: 0, turned: 0 };
    for (let seed = 1; seed <= 16; seed++) {
      const { log, nowMs, random } = randomNight(seed, { many: seed % 2 === 0 });
      tenMinutes(liveLog(log, nowMs), nowMs, random, random.pick([10_000, 20_000, 60_000]), tally);
    }
    console.log(JSON.stringify(tally));
    expect(tally.stood).toBeGreaterThan(300);
    expect(tally.bridged).toBeGreaterThan(10);
    expect(tally.turned).toBeGreaterThan(3);
  }, 240_000);

  it("takes a pour back with the reading that stops it", () => {
    const tally: Tally = { stood: 0, bridged: 0, anew: 0, trust: 0, turned: 0 };
    let pours = 0;
    for (let seed = 1; seed <= 150 && pours < 12; seed++) {
      const { log: night, nowMs } = randomNight(seed, { whole: true });
      const log = liveLog(night, nowMs);
      const judged = judgeToLook(log, "a", nowMs);
      if (judged.call.call !== "pour" || !judged.again) continue;
      pours++;
      const { marginK, slabColdC } = judged.call.conditions;
      let again: Again | null = judged.again;
      // Each coldest slab reads a little colder with every packet, by less than what trust would look at in one step.
      for (let step = 1; step <= 30 && again !== null; step++) {
        const atMs = nowMs + step * 2000;
        for (const series of log.series.filter(({ quantity }) => quantity.startsWith("slab")))
          hear(series, atMs, (series.values.at(-1) as number) - 0.2, atMs);
        const fresh = judgeToLook(log, "a", atMs);
        again = lookAgain(again, log, atMs);
        if (again !== null) {
          tally.stood++;
          expect(callNow(again).conditions).toEqual(fresh.call.conditions);
          expect(outcomesOf(again, PRESENT)).toEqual(outcomesOf(fresh, PRESENT));
        }
      }
      expect(again, `${marginK} ${slabColdC}`).toBeNull();
    }
    expect(pours).toBe(12);
    expect(tally.stood).toBeGreaterThan(12);
  }, 60_000);

  it("is judged anew when anything but readings changed, or the judging is old", () => {
    const { log: night, nowMs } = randomNight(7, { whole: true, many: true });
    const log = liveLog(night, nowMs);
    const again = judgeToLook(log, "a", nowMs).again as Again;
    expect(lookAgain(again, log, nowMs + 1000)).not.toBeNull();
    expect(lookAgain(again, { ...log }, nowMs + 1000)).toBeNull();
    expect(lookAgain(again, log, nowMs - 1)).toBeNull();
    expect(lookAgain(again, log, nowMs + LOOK_WITHIN_MS + 1)).toBeNull();
    log.feeds.push({ fetchedMs: nowMs, hours: [] });
    expect(lookAgain(again, log, nowMs + 1000)).toBeNull();
    log.feeds.pop();
    expect(lookAgain(again, log, nowMs + 1000)).not.toBeNull();
    log.journal.push(entry("cleaned", nowMs));
    expect(lookAgain(again, log, nowMs + 1000)).toBeNull();
  });

  it("is judged anew for what trust must see: error codes, leaps, late readings, and probes that were silent", () => {
    const odd = (what: (log: LiveLog, nowMs: number) => void): Again | null => {
      const { log: night, nowMs } = randomNight(7, { whole: true, many: true });
      const log = liveLog(night, nowMs);
      const again = judgeToLook(log, "a", nowMs).again as Again;
      what(log, nowMs + 1000);
      return lookAgain(again, log, nowMs + 2000);
    };
    const slab = (log: LiveLog) => log.series.find(({ quantity }) => quantity === "slab") as LiveSeries;
    const last = (log: LiveLog) => slab(log).values.at(-1) as number;
    expect(odd((log, atMs) => hear(slab(log), atMs, last(log) + 0.1, atMs))).not.toBeNull();
    expect(odd((log, atMs) => hear(slab(log), atMs, last(log) + 0.6, atMs))).toBeNull();
    expect(odd((log, atMs) => hear(slab(log), atMs, 85, atMs))).toBeNull();
    expect(odd((log, atMs) => hear(slab(log), atMs - 5 * HOUR_MS, last(log), atMs))).toBeNull();
    expect(odd((log, atMs) => hear(slab(log), atMs - 3 * MINUTE_MS, last(log), atMs + 5000))).toBeNull();
    // Late readings and a window that was cut by as many.
    const cut = odd((log, atMs) => {
      hear(slab(log), atMs - 5 * HOUR_MS, last(log), atMs);
      for (const column of [slab(log).atMs, slab(log).values, slab(log).heardMs]) column.shift();
    });
    expect(cut).toBeNull();
  });
});
