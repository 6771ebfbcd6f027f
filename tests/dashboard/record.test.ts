// What the record page says, in both languages: counts, reasons with their numbers, and dates that are never a promise.
import { describe, expect, it } from "vitest";
import type { UseBody } from "#contract/hand-over.ts";
import { countsOf, number, stamp, useWords, whyWords } from "../../dashboard/features/record/record-words.ts";
import { routeFrom } from "../../dashboard/app/route.ts";
import { enRecord } from "../../dashboard/text/en-record.ts";
import { esRecord } from "../../dashboard/text/es-record.ts";
import { SAMPLE_HAND_OVER, sampleRecord } from "../support/sample-record.ts";
import { voiceOf } from "./voice.ts";

const en = voiceOf("en", "us");
const es = voiceOf("es", "si");
const plain = (text: string) => text.replaceAll("\u00a0", " ");

describe("the record in words", () => {
  it("counts what was met, not met and not known", () => {
    const { met, notMet, unknown } = countsOf(sampleRecord().limits);
    expect([met, notMet, unknown]).toEqual([8, 1, 1]);
    expect(enRecord.counts(met, notMet, unknown)).toBe("8 met, 1 not met, 1 not known");
    expect(esRecord.counts(met, notMet, unknown)).toBe("8 cumplidos, 1 no cumplido, 1 no se sabe");
  });

  it("gives the rule to read first with number and limit in both systems", () => {
    const night = sampleRecord().calls.find(({ limiting }) => limiting === "night-dew");
    if (night === undefined) expect.fail("the sample has such a call");
    expect(plain(whyWords(night, en))).toMatch(/: 1\.4 °F \(0\.8 °C\) \/ 5\.4 °F \(3 °C\)$/);
    expect(plain(whyWords(night, es))).toMatch(/: 0\.8 °C \(1\.4 °F\) \/ 3 °C \(5\.4 °F\)$/);
    expect(whyWords({ ...night, limiting: null }, en)).toBe("");
    expect(number(null, "C", en)).toBe("not known");
  });

  it("says not before when, and gives no date where there is none", () => {
    const said = (use: UseBody) => [useWords(use, en), useWords(use, es)].map(plain);
    const [walk, traffic, water, wash] = SAMPLE_HAND_OVER.uses;
    if (walk === undefined || traffic === undefined || water === undefined || wash === undefined)
      expect.fail("four uses");
    expect(said(walk)).toEqual(["not before Thu 5 Feb, 7:12 am", "no antes de jue 5 feb, 07:12"]);
    expect(said(traffic)).toEqual(["cannot be foreseen now", "ahora no se puede prever"]);
    expect(said(water)[0]).toBe("reached Wed 4 Feb, 10:36 am (estimate)");
    expect(said(wash)).toEqual(["ask the product's sheet", "consulte la ficha del producto"]);
    expect(stamp("2026-02-03T14:00:00Z", en)).toContain("Tue 3 Feb");
  });

  it("has an address of its own for each zone", () => {
    expect(routeFrom("#/site/dock/record/bay%201")).toEqual({ page: "record", site: "dock", part: "bay 1" });
    expect(routeFrom("#/record/bay")).toEqual({ page: "record", site: null, part: "bay" });
    expect(routeFrom("#/record")).toEqual({ page: "unknown" });
  });
});
