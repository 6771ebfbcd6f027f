// Every rule has a sentence in both languages and both unit systems, with and without its numbers.
import { describe, expect, it } from "vitest";
import type { BoardZoneBody } from "#contract/board.ts";
import type { CallBody, RuleResultBody } from "#contract/call.ts";
import { RULE_IDS, type RuleUnit } from "#core/judge/call.ts";
import { factsOf, isBlind, nearWords, stripWords } from "../../dashboard/text/sentence.ts";
import { accessText } from "../../dashboard/text/access.ts";
import { opinionsText } from "../../dashboard/text/opinions.ts";
import { aheadText } from "../../dashboard/text/ahead.ts";
import { heatText } from "../../dashboard/text/heat.ts";
import { journalText } from "../../dashboard/text/journal.ts";
import { zoneText } from "../../dashboard/text/zone.ts";
import { sampleBoard } from "../support/sample-night.ts";
import { DICTIONARIES, NOW_MS, voiceOf } from "./voice.ts";

const LANGUAGES = ["en", "es"] as const;
const SYSTEMS = ["us", "si"] as const;
const UNITS: readonly (RuleUnit | null)[] = [
  "C",
  "K",
  "%RH",
  "g/kg",
  "h",
  "min",
  "s",
  "1",
  "K/h",
  "lb",
  "g/m2",
  "m2",
  null,
];
const KINDS = [
  null,
  "slab",
  "air",
  "silent-probe",
  "gap",
  "margin",
  "found",
  "window-closed",
  "below-dew-point",
  "not-ground",
  "61",
  "primer: limits.dewMarginK outside 1 to 8 K",
];

const BOARD = sampleBoard();

function zoneWith(id: string, change: (call: CallBody) => CallBody = (call) => call): BoardZoneBody {
  const found = BOARD.zones.find((zone) => zone.zone.id === id);
  if (found === undefined) throw new Error(id);
  return { ...found, call: change(found.call) };
}

function limitedBy(rule: RuleResultBody): BoardZoneBody {
  return zoneWith("slip", (call) => ({ ...call, call: "wait", limiting: rule.rule, rules: [rule] }));
}

const FORBIDDEN: Readonly<Record<string, RegExp>> = {
  "a missing value": /undefined|null|NaN|\[object/,
  // Differences are °F or °C on the screen: a number followed by a bare K is a leak from the inside.
  "a bare K": /\d\s*K\b/,
  "a promise": /\bsafe\b|guarantee|garantiz|\bsegur[oa]s?\b/i,
  "loose spaces or stops": / {2}|\.\.|\s[.,:;]/,
};

/** What a sentence holds that none may, whatever it was made from. */
function flawsOf(said: string): string[] {
  return Object.entries(FORBIDDEN).flatMap(([flaw, pattern]) => (pattern.test(said) ? [`${flaw}: ${said}`] : []));
}

describe("the sentence of each rule", () => {
  for (const language of LANGUAGES) {
    for (const units of SYSTEMS) {
      it.each(RULE_IDS)(`%s, ${language}, ${units}`, (rule) => {
        const voice = voiceOf(language, units);
        const bare: RuleResultBody = {
          rule,
          outcome: "stop",
          measured: null,
          limit: null,
          unit: null,
          probe: null,
          since: null,
          detail: null,
        };
        const since = new Date(NOW_MS - 97 * 60_000).toISOString();
        const cases = [bare, { ...bare, probe: "n/slab", since }, ...KINDS.map((detail) => ({ ...bare, detail }))];
        const full = { ...bare, measured: -1.25, limit: 3.4, unit: "K", probe: "n/slab", since };
        cases.push(...UNITS.map((unit) => ({ ...full, unit })), ...KINDS.map((detail) => ({ ...full, detail })));
        const words = cases.map((one) => stripWords(limitedBy(one), voice));
        expect(words.flatMap(({ lead, rest, next }) => [lead, rest, next].flatMap(flawsOf))).toEqual([]);
        expect(words.filter(({ lead }) => !/^\S.*[.]$/s.test(lead))).toEqual([]);
      });
    }
  }

  it("says the margin first in the person's system, the other in brackets, and never adds 32 to a difference", () => {
    // 1.1 K is 1.98 °F and 3 K is 5.4 °F: exact by the definition of the degree Fahrenheit (NIST SP 811, B.8).
    const rule: RuleResultBody = {
      rule: "dew-margin",
      outcome: "stop",
      measured: 1.1,
      limit: 3,
      unit: "K",
      probe: "slip-door/slab",
      since: null,
      detail: null,
    };
    expect(stripWords(limitedBy(rule), voiceOf("en", "us")).lead).toBe(
      "Slab 2\u00a0°F (1.1\u00a0°C) above dew point at place of slip-door/slab.",
    );
    expect(stripWords(limitedBy(rule), voiceOf("en", "us")).rest).toBe("Limit 5.4\u00a0°F (3\u00a0°C).");
    expect(stripWords(limitedBy(rule), voiceOf("es", "si")).lead).toBe(
      "Losa 1.1\u00a0°C (2\u00a0°F) sobre el punto de rocío en place of slip-door/slab.",
    );
    const below = stripWords(limitedBy({ ...rule, measured: -0.4 }), voiceOf("en", "si"));
    expect(below.lead).toContain("0.4\u00a0°C (0.7\u00a0°F) below dew point");
  });

  it("says what is wrong with a sheet in the person's language", () => {
    const rule: RuleResultBody = {
      rule: "sheet-invalid",
      outcome: "stop",
      measured: null,
      limit: null,
      unit: null,
      probe: null,
      since: null,
      detail: "primer: cure.recoatUntilH maximum below minimum",
    };
    expect(factsOf(rule, limitedBy(rule), voiceOf("es", "us")).detail).toBe(
      "primer, curado máximo: máximo menor que mínimo",
    );
  });
});

describe("the words of a call without a limiting rule", () => {
  it("pour: until when, last mix, finish, window", () => {
    const words = stripWords(zoneWith("inner"), voiceOf("en", "si"));
    expect(words.lead).toBe("Start by 11:41, 5\u00a0h\u00a036 left.");
    expect(words.rest).toBe("Last mix 12:35, finish by 12:54. Window closes 14:11.");
    expect(words.next).toBe("Then wait, from about 13:41 (in 7\u00a0h\u00a036), chance 97\u00a0%.");
  });

  it("pour without an end in sight says that limits are met, not more", () => {
    const words = stripWords(
      zoneWith("inner", (call) => ({
        ...call,
        validUntil: null,
        pour: null,
        next: null,
        window: { state: "none", opensAt: null, closesAt: null, earned: null },
      })),
      voiceOf("en", "us"),
    );
    expect(words).toEqual({
      lead: "Limits entered from the sheet are met, now and through the hours foreseen.",
      rest: "",
      next: "",
    });
  });

  it("while pouring: carry on, or stop at the next joint", () => {
    expect(
      stripWords(
        zoneWith("inner", (call) => ({ ...call, pouring: true })),
        voiceOf("en", "si"),
      ).lead,
    ).toBe("Carry on until 13:41, 7\u00a0h\u00a036 left.");
    expect(
      stripWords(
        zoneWith("slip", (call) => ({ ...call, pouring: true })),
        voiceOf("en", "si"),
      ).rest,
    ).toMatch(/Stop at the next joint\.$/);
  });

  it("finished: walk and drive, before and after", () => {
    const gallery = zoneWith("gallery");
    expect(stripWords(gallery, voiceOf("en", "us")).lead).toBe("Walk on from 4:29\u00a0pm.");
    expect(stripWords(gallery, voiceOf("en", "us")).rest).toBe("Drive on from Fri\u00a07:05\u00a0am.");
    expect(stripWords(gallery, voiceOf("en", "us", NOW_MS + 11 * 3_600_000)).lead).toBe("Walk on since 4:29\u00a0pm.");
    expect(stripWords(gallery, voiceOf("es", "si")).lead).toBe("Se puede pisar desde 16:29.");
  });

  it("no data: since when, and that the last call does not stand", () => {
    const stair = zoneWith("stair");
    expect(isBlind(stair.call)).toBe(true);
    const words = stripWords(stair, voiceOf("en", "us"));
    expect(words.lead).toBe("No reading for 97\u00a0min.");
    expect(words.rest).toBe("Last call was pour; it does not stand now. Check the node or measure by hand.");
  });

  it("near limits are said, but not the limit that is the reason already", () => {
    expect(nearWords(zoneWith("slip"), voiceOf("en", "si"))).toEqual([
      "Near a limit: Slab above dew point, 3.9\u00a0°C (7\u00a0°F), limit 3\u00a0°C (5.4\u00a0°F).",
    ]);
    expect(
      nearWords(
        zoneWith("slip", (call) => ({ ...call, limiting: "dew-margin" })),
        voiceOf("en", "si"),
      ),
    ).toEqual([]);
  });
});

describe("the dictionaries", () => {
  /** Every text that stands without facts. */
  function texts(value: unknown): string[] {
    if (typeof value === "string") return [value];
    if (typeof value === "function") return value.length > 0 ? [] : texts(value());
    return typeof value === "object" && value !== null ? Object.values(value).flatMap(texts) : [];
  }
  /** The dictionary, and what comes later with the pages that need it. */
  const everything = (language: "en" | "es") => {
    const first = DICTIONARIES[language];
    return [first, ...[journalText, zoneText, aheadText, heatText, accessText, opinionsText].map((of) => of(first))];
  };
  it.each(LANGUAGES)("%s promises nothing and leaks no K", (language) => {
    const all = texts(everything(language));
    expect(all.length).toBeGreaterThan(200);
    for (const text of all) {
      expect(text).not.toMatch(/\bsafe\b|guarantee|garantiz|\d\s*K\b/i);
      expect(text.trim()).toBe(text);
      expect(text).not.toBe("");
    }
  });
  it("translates: the long texts differ", () => {
    const english = texts(everything("en"));
    const spanish = texts(everything("es"));
    expect(spanish).toHaveLength(english.length);
    const same = english.filter((text, index) => text === spanish[index] && text.includes(" ") && text.length > 12);
    expect(same).toEqual([]);
  });
});
