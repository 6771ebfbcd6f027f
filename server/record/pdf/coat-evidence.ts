// The evidence behind the limits: rules of the field, hand readings, gaps and faults, probes, heat, work and tests.
import type { CoatRecordBody } from "#contract/record.ts";
import type { FieldRuleBody } from "#contract/record-parts.ts";
import type { EntryBody } from "#contract/journal.ts";
import { outcomeCell } from "./coat-limits.ts";
import { INK, type Paper } from "./paper.ts";
import { saidOf } from "./said.ts";
import { heading, msOf, type Setting } from "./setting.ts";
import { table } from "./table.ts";

/** Units at the end of a name, as the house writes them, and how they are told. */
const FACT_UNITS: readonly (readonly [RegExp, string | null])[] = [
  [/M2$/, "m2"],
  [/PerH$/, "/h"],
  [/RhPct$/, "%RH"],
  [/Pct$/, "%RH"],
  [/Min$/, "min"],
  [/H$/, "h"],
  [/S$/, "s"],
  [/Mpa$/, "MPa"],
  [/C$/, "C"],
  [/K$/, "K"],
];

export function factsOf({ facts }: FieldRuleBody, { words, figures, clock }: Setting): string {
  return Object.entries(facts)
    .map(([name, value]) => {
      const [ending, unit] = FACT_UNITS.find(([end]) => typeof value === "number" && end.test(name)) ?? [null, null];
      const bare = ending === null ? name.replace(/At$/, "") : name.replace(ending, "");
      const label =
        words.facts[name] ?? words.facts[bare] ?? bare.replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`);
      if (value === null) return `${label}: ${words.unknown}`;
      if (typeof value === "number") return `${label}: ${figures.measure(value, unit)}`;
      const atMs = /^\d{4}-\d\d-\d\dT/.test(value) ? Date.parse(value) : Number.NaN;
      return `${label}: ${Number.isNaN(atMs) ? value : clock.stamp(atMs)}`;
    })
    .join("; ");
}

export function fieldRulesPart(paper: Paper, { fieldRules }: CoatRecordBody, setting: Setting): void {
  const { words } = setting;
  const { labels } = words;
  heading(paper, words.sections.fieldRules, words.help.fieldRules);
  table(
    paper,
    [
      { title: labels.rule, share: 34 },
      { title: labels.facts, share: 34 },
      { title: labels.source, share: 28 },
      { title: labels.outcome, share: 15 },
    ],
    fieldRules.map((rule) => [
      words.fieldRules[rule.rule],
      factsOf(rule, setting),
      rule.source ?? { text: words.commonPractice, face: "slanted", colour: INK.dim },
      outcomeCell(rule.outcome, setting),
    ]),
  );
}

export function handReadingsPart(
  paper: Paper,
  { handReadings }: CoatRecordBody,
  { words, clock, figures }: Setting,
): void {
  const { labels } = words;
  heading(paper, words.sections.handReadings);
  if (handReadings.length === 0) return paper.tell(words.none);
  const degrees = (c: number | null) => (c === null ? "" : figures.temperature(c));
  table(
    paper,
    [
      { title: labels.at, share: 27 },
      { title: labels.slab, share: 16 },
      { title: labels.air, share: 16 },
      { title: labels.humidity, share: 10 },
      { title: labels.dewPoint, share: 16 },
      { title: labels.margin, share: 16 },
      { title: labels.resin, share: 16 },
      { title: `${labels.instrument}, ${labels.by.toLowerCase()}`, share: 22 },
    ],
    handReadings.map((one) => [
      clock.stamp(msOf(one.at)),
      degrees(one.slabC),
      degrees(one.airC),
      one.rhPct === null ? "" : figures.percent(one.rhPct),
      degrees(one.dewPointC),
      one.marginK === null ? "" : figures.difference(one.marginK),
      degrees(one.resinC),
      [one.instrument, one.calibratedOn === null ? null : `${labels.calibrated} ${one.calibratedOn}`, one.by]
        .filter((part) => part !== null)
        .join(", "),
    ]),
  );
}

/** What the two numbers of a doubt are counted in. */
const FAULT_UNITS: Readonly<Record<CoatRecordBody["faults"][number]["kind"], string | null>> = {
  saturated: "%RH",
  detached: "1",
  conflict: "K",
  "own-dew-point": "K",
  unit: null,
  clock: "s",
  "sun-struck": "K",
  frozen: null,
  "reads-low": "K",
  "off-from-hand": "K",
  outvoted: "K",
  solvent: "K",
  "error-code": null,
};

export function gapsPart(
  paper: Paper,
  body: Pick<CoatRecordBody, "gaps" | "faults">,
  { words, clock, figures }: Setting,
): void {
  const { labels } = words;
  const { gaps, faults } = body;
  heading(paper, words.sections.gaps, words.help.gaps);
  if (gaps.length + faults.length === 0) return paper.tell(words.help.noGaps);
  const lines = [
    ...gaps.map(({ from, to, reason }) => ({ from, to, what: words.gaps[reason], probe: "", measured: "" })),
    ...faults.map(({ from, to, kind, probe, measured, limit }) => ({
      from,
      to,
      what: words.faults[kind],
      probe,
      measured: `${figures.measure(measured, FAULT_UNITS[kind])} / ${figures.measure(limit, FAULT_UNITS[kind])}`,
    })),
  ].sort((a, b) => msOf(a.from) - msOf(b.from));
  table(
    paper,
    [
      { title: labels.from, share: 22 },
      { title: labels.until, share: 22 },
      { title: labels.duration, share: 11 },
      { title: labels.kind, share: 28 },
      { title: labels.probe, share: 16 },
      { title: `${labels.measured} / ${labels.limit.toLowerCase()}`, share: 16 },
    ],
    lines.map(({ from, to, what, probe, measured }) => [
      clock.stamp(msOf(from)),
      to === null ? words.running : clock.stamp(msOf(to)),
      to === null ? "" : figures.duration((msOf(to) - msOf(from)) / 60_000),
      what,
      probe,
      measured,
    ]),
  );
}

export function probesPart(paper: Paper, { probes }: CoatRecordBody, { words, clock, figures }: Setting): void {
  const { labels } = words;
  heading(paper, words.sections.probes);
  table(
    paper,
    [
      { title: labels.probe, share: 26 },
      { title: labels.place, share: 32 },
      { title: "x, y", share: 16 },
      { title: labels.accuracy, share: 22 },
      { title: labels.note, share: 30 },
    ],
    probes.map(({ probe, place, xM, yM, accuracy, movedAt, retiredAt }) => [
      probe,
      place ?? "",
      xM === null || yM === null ? "" : `${xM} m, ${yM} m`,
      `± ${/\/rh/.test(probe) ? figures.measure(accuracy, "%RH") : figures.difference(accuracy)}`,
      [
        ...(movedAt === null ? [] : [`${labels.moved} ${clock.stamp(msOf(movedAt))}`]),
        ...(retiredAt === null ? [] : [`${labels.retired} ${clock.stamp(msOf(retiredAt))}`]),
      ].join(", "),
    ]),
  );
}

export function heatPart(
  paper: Paper,
  { heat, ventilation }: CoatRecordBody,
  { words, clock, figures }: Setting,
): void {
  if (heat.length + ventilation.length === 0) return;
  const { labels, said } = words;
  heading(paper, words.sections.heat);
  const lines = [
    ...heat.map(({ from, to, vented, kW, fuel, targetC, by }) => ({
      from,
      to,
      by,
      what: labels.heater,
      details: [
        fuel === null ? null : (said[fuel] ?? fuel),
        kW === null ? null : figures.power(kW),
        vented === null ? null : vented ? labels.vented : labels.unvented,
        targetC === null ? null : figures.temperature(targetC),
      ]
        .filter((part) => part !== null)
        .join(", "),
    })),
    ...ventilation.map(({ from, to, how, by }) => ({ from, to, by, what: labels.ventilation, details: how ?? "" })),
  ].sort((a, b) => msOf(a.from) - msOf(b.from));
  table(
    paper,
    [
      { title: labels.from, share: 21 },
      { title: labels.until, share: 21 },
      { title: labels.what, share: 16 },
      { title: labels.details, share: 42 },
      { title: labels.by, share: 14 },
    ],
    lines.map(({ from, to, what, details, by }) => [
      clock.stamp(msOf(from)),
      to === null ? words.running : clock.stamp(msOf(to)),
      what,
      details,
      by ?? words.noName,
    ]),
  );
}

/** Entries of one kind, whole: work on the surface, tests. */
export function entriesPart(paper: Paper, title: string, entries: readonly EntryBody[], setting: Setting): void {
  if (entries.length === 0) return;
  const { words, clock } = setting;
  const { labels } = words;
  heading(paper, title);
  table(
    paper,
    [
      { title: labels.at, share: 20 },
      { title: labels.what, share: 20 },
      { title: labels.details, share: 50 },
      { title: labels.by, share: 14 },
    ],
    [...entries]
      .sort((a, b) => msOf(a.at) - msOf(b.at))
      .map((entry) => [
        clock.stamp(msOf(entry.at)),
        words.did[entry.did],
        saidOf(entry, setting),
        entry.by ?? words.noName,
      ]),
  );
}
