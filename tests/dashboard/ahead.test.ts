// What lies ahead, in words and order: the list of when to come back, the race of film and window, what may fail, and heat.
import { describe, expect, it } from "vitest";
import type { BoardZoneBody } from "#contract/board.ts";
import type { FeedStateBody } from "#contract/feed.ts";
import { HEAT_CAUTIONS, type HeatPlanBody } from "#contract/heat-plan.ts";
import { feedWords } from "../../dashboard/features/feed-notice/feed-words.ts";
import { draftFrom, entryOf, questionOf } from "../../dashboard/features/heat/heat-form.ts";
import { answerWords, choiceRows } from "../../dashboard/features/heat/heat-words.ts";
import { visitsOf } from "../../dashboard/features/come-back/visits.ts";
import { visitWords } from "../../dashboard/features/come-back/visit-words.ts";
import { fadingOf, raceOf } from "../../dashboard/features/race/race.ts";
import { raceWords } from "../../dashboard/features/race/race-words.ts";
import { failingRows, levelOf } from "../../dashboard/features/zone/failing.ts";
import { heatText } from "../../dashboard/text/heat.ts";
import { isLosing } from "../../dashboard/text/sentence.ts";
import { sampleHeatPlan } from "../support/sample-heat.ts";
import { sampleBoard } from "../support/sample-night.ts";
import { NOW_MS, voiceOf } from "./voice.ts";

const HOUR_MS = 3_600_000;
const SPOKEN = [
  ["en", "us"],
  ["en", "si"],
  ["es", "us"],
  ["es", "si"],
] as const;
const { zones } = sampleBoard();
const zone = (id: string): BoardZoneBody => {
  const found = zones.find((item) => item.zone.id === id);
  if (found === undefined) throw new Error(`no zone ${id}`);
  return found;
};
/** Numbers hold on to their units by spaces that do not break. */
const even = (said: string) => said.replaceAll(/[\u00a0\u202f]/g, " ");
/** No hole in a sentence, no bare kelvin, nothing promised. */
const sound = (said: string) => {
  expect(said).not.toMatch(/undefined|NaN|null|\d\s*K\b|\bsafe\b|guarantee|garanti/i);
};

describe("when to come back", () => {
  const visits = visitsOf(zones, NOW_MS);
  const of = (id: string) => visits.find(({ item }) => item.zone.id === id);

  it("names every zone once; what can be poured now stands first, what needs nobody last", () => {
    expect(visits.map(({ item }) => item.zone.id).sort()).toEqual(zones.map((item) => item.zone.id).sort());
    expect(visits[0]?.item.call.call).toBe("pour");
    const later = visits.filter(({ errand }) => errand === "back").map(({ atMs }) => atMs ?? Number.NaN);
    expect(later).toEqual([...later].sort((a, b) => a - b));
  });

  it("a window that closes before the film is hard is said hours ahead", () => {
    expect(isLosing(zone("boiler"))).toBe(true);
    expect(of("boiler")?.errand).toBe("lost");
    const { what } = visitWords(of("boiler") as (typeof visits)[number], voiceOf("en", "us"));
    expect(even(what)).toMatch(/^Window closes .+, before the film is hard .+: plan abrading\.$/);
  });

  it("a window that has closed is not being lost any more", () => {
    const boiler = zone("boiler");
    expect(isLosing({ ...boiler, call: { ...boiler.call, call: "abrade" } })).toBe(false);
  });

  it("marks one zone at most as closing first, and that it truly closes first", () => {
    const marked = visits.filter(({ closesFirst }) => closesFirst);
    expect(marked).toHaveLength(1);
    const closings = visits.flatMap(({ closesMs, errand }) =>
      closesMs !== null && ["pour", "pouring", "back", "hands"].includes(errand) ? [closesMs] : [],
    );
    expect(marked[0]?.closesMs).toBe(Math.min(...closings));
  });

  it.each(SPOKEN)("marks a time that comes from a sheet nobody has confirmed, in %s, %s", (language, units) => {
    const done = zones.find(({ call }) => call.call === "finished");
    if (done === undefined || done.outlook === null) throw new Error("no finished zone");
    const wait = { rule: "sheet-invalid", outcome: "stop", detail: "e1: unconfirmed" };
    const walkOnAt = new Date(NOW_MS + 2 * HOUR_MS).toISOString();
    const film = { ...(done.call.film as NonNullable<typeof done.call.film>), walkOnAt };
    const walk = { ...done, outlook: null, call: { ...done.call, film } };
    const unread = { ...walk, call: { ...walk.call, rules: [wait as unknown as (typeof done.call.rules)[number]] } };
    const [said, marked] = [walk, unread].map((item) => {
      const [visit] = visitsOf([item], NOW_MS);
      expect(visit?.errand).toBe("walk");
      return visitWords(visit as NonNullable<typeof visit>, voiceOf(language, units)).what;
    });
    expect(marked).toBe(`${said} ${voiceOf(language, units).text.comeBack.unread}`);
  });

  it.each(SPOKEN)("is whole in %s, %s", (language, units) => {
    for (const visit of visits) {
      const words = visitWords(visit, voiceOf(language, units));
      expect(words.what).not.toBe("");
      sound(Object.values(words).join(" "));
    }
  });
});

describe("the race", () => {
  it("shows a lost window: the pour does not fit, and by how much the film comes late", () => {
    const race = raceOf(zone("boiler"), NOW_MS);
    expect(race?.pour?.fits).toBe(false);
    expect(race?.gapMs).toBeCloseTo((4.2 - 6.2) * HOUR_MS, -3);
    expect(race?.chanceLost).toBe(0.83);
    expect(even(raceWords(race as NonNullable<typeof race>, voiceOf("en", "us")))).toBe(
      "The film is hard about 2 h after the window closes: chance of losing it 83 %.",
    );
  });

  it("of a hard film begins now, and ends with room for the pour or without", () => {
    const race = raceOf(zone("inner"), NOW_MS);
    expect(race?.hard).toBe(true);
    expect(race?.pour?.fromMs).toBe(NOW_MS);
    expect(race?.pour?.fits).toBe((race?.pour?.toMs ?? 0) <= (race?.window.endMs ?? 0));
  });

  it("is not run over a closed window, nor where no coat follows", () => {
    expect(raceOf(zone("rigging"), NOW_MS)).toBeNull();
    const inner = zone("inner");
    expect(raceOf({ ...inner, call: { ...inner.call, nextCoat: null } }, NOW_MS)).toBeNull();
    const closesAt = new Date(NOW_MS - HOUR_MS).toISOString();
    const lost = { ...inner.call.window, state: "lost" as const, closesAt };
    expect(raceOf({ ...inner, call: { ...inner.call, window: lost } }, NOW_MS)).toBeNull();
  });

  it("fades from the first to the last tenth of the ends without a hole", () => {
    const bar = raceOf(zone("boiler"), NOW_MS)?.film;
    if (bar === undefined) throw new Error("no bar");
    const pieces = fadingOf(bar);
    expect(pieces[0]?.fromMs).toBe(bar.solidToMs);
    expect(pieces.at(-1)?.toMs).toBe(bar.goneMs);
    for (const [index, piece] of pieces.entries()) expect(pieces[index + 1]?.fromMs ?? piece.toMs).toBe(piece.toMs);
    expect(fadingOf({ ...bar, goneMs: bar.solidToMs })).toEqual([]);
  });

  it.each(SPOKEN)("is whole in %s, %s", (language, units) => {
    for (const item of zones) {
      const race = raceOf(item, NOW_MS);
      if (race !== null) sound(raceWords(race, voiceOf(language, units)));
    }
  });
});

describe("what could go wrong", () => {
  const boiler = zone("boiler").outlook;
  if (boiler === null) throw new Error("no outlook");

  it("takes the chances at the hours asked for, the likeliest first, never falling", () => {
    const rows = failingRows(boiler, NOW_MS);
    expect(rows[0]?.rule).toBe("window-closed");
    for (const { chances } of rows) {
      const known = chances.filter((chance) => chance !== null);
      expect(known).toEqual([...known].sort((a, b) => a - b));
    }
  });

  it("counts from now: an outlook that has aged says nothing of its last hours", () => {
    const rows = failingRows(boiler, NOW_MS + 5 * HOUR_MS);
    expect(rows[0]?.chances.at(-1)).toBeNull();
    expect(rows[0]?.chances[0]).toBe(boiler.failing[0]?.byHour[7]);
  });

  it("draws no chance paler than a smaller one", () => {
    const levels = [null, 0, 0.05, 0.24, 0.25, 0.5, 0.74, 0.75, 1].map(levelOf);
    expect(levels).toEqual([0, 0, 1, 1, 2, 3, 3, 4, 4]);
  });
});

describe("heat", () => {
  const plan = (kW: number): HeatPlanBody => {
    const made = sampleHeatPlan("boiler", questionOf({ ...draftFrom(null), kW }, NOW_MS));
    if (made === null) throw new Error("no plan");
    return made;
  };

  it("a draft kept on the device is read field by field; nonsense falls back to what is usual", () => {
    const usual = draftFrom(null);
    expect(draftFrom({ kW: 12, fuel: "coal", vented: "yes", targetC: 900 })).toEqual({ ...usual, kW: 12 });
    expect(draftFrom("nonsense")).toEqual(usual);
  });

  it("an electric heater has no fumes, whatever was set before", () => {
    const draft = { ...draftFrom(null), fuel: "electric" as const, vented: false };
    expect(questionOf(draft, NOW_MS).heater.vented).toBe(true);
  });

  it("only a choice with heat becomes an entry, with its times and its target", () => {
    const { choices } = plan(40);
    const [cold, now] = choices;
    if (cold === undefined || now === undefined) throw new Error("no choices");
    expect(entryOf(cold, draftFrom(null), NOW_MS, "ana")).toBeNull();
    expect(entryOf(now, draftFrom(null), NOW_MS, " ana ")).toMatchObject({
      did: "heating",
      on: true,
      zone: null,
      from: now.from,
      targetC: now.targetC,
      by: "ana",
    });
  });

  it("answers whether the window can be saved: yes with the plan, or no with the work that follows", () => {
    const voice = voiceOf("en", "us");
    const answers = [plan(2), plan(60)].map((one) => even(answerWords(one, voice)));
    expect(answers[0]).toMatch(/^No: .+ about .+ of one person's work\.$/);
    expect(answers[1]).toMatch(/^Yes: heat.+ falls from 83 % to/);
  });

  it.each(SPOKEN)("every row, answer and caution is whole in %s, %s", (language, units) => {
    const voice = voiceOf(language, units);
    const words = heatText(voice.text);
    for (const one of [plan(2), plan(60)]) {
      sound(answerWords(one, voice));
      const rows = one.choices.map((choice) => choiceRows(choice, voice));
      for (const row of rows) {
        expect(row.map((each) => each.row)).toEqual(rows[0]?.map((each) => each.row));
        for (const { said, more } of row) sound(`${said} ${more}`);
      }
    }
    for (const caution of HEAT_CAUTIONS) {
      expect(words.cautions[caution].length).toBeGreaterThan(20);
      sound(words.cautions[caution]);
    }
  });
});

describe("the weather feed", () => {
  const recipe = {} as NonNullable<FeedStateBody["recipe"]>;
  const good: FeedStateBody = {
    recipe,
    lastGoodAt: new Date(NOW_MS - 2 * HOUR_MS).toISOString(),
    failures: 0,
    lastError: null,
    nextAt: null,
    hours: 48,
    ageS: 7200,
    endsAt: null,
    used: true,
    doubt: null,
    spreadScale: 1,
    airOffsetK: 0,
    dewOffsetK: 0,
  };
  const doubt = (fault: NonNullable<FeedStateBody["doubt"]>["fault"]): FeedStateBody => ({
    ...good,
    used: false,
    doubt: { fault, against: "node", measured: 9, limit: 6, unit: "K", reason: "" },
  });

  it.each(SPOKEN)("is spoken of only while something is wrong with it (%s, %s)", (language, units) => {
    const voice = voiceOf(language, units);
    expect(feedWords(good, voice)).toBeNull();
    expect(feedWords({ ...good, failures: 2 }, voice)).toBeNull();
    expect(feedWords({ ...good, recipe: null, failures: 9 }, voice)).toBeNull();
    const told = [
      { ...good, failures: 3 },
      { ...good, lastGoodAt: null, failures: 1 },
      ...(["stale", "ends", "jumps", "unit", "time-zone", "disagrees"] as const).map(doubt),
    ].map((feed) => feedWords(feed, voice));
    for (const said of told) sound(said ?? "undefined");
    expect(new Set(told).size).toBe(told.length);
  });
});
