// The sheet's limits against what was there, its cure hours, and what the films went through.
import type { CoatRecordBody } from "#contract/record.ts";
import type { LimitHeldBody, PassageBody } from "#contract/record-parts.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { INK, type Paper } from "./paper.ts";
import { heading, msOf, type Setting } from "./setting.ts";
import { type Cell, facts, type Row, table } from "./table.ts";
import type { Outcome } from "./words.ts";

export function outcomeCell(outcome: Outcome, { words }: Setting): Cell {
  const ink = { met: INK.ink, "not-met": INK.stop, unknown: INK.dim } as const;
  return { text: words.outcomes[outcome], face: outcome === "met" ? "plain" : "bold", colour: ink[outcome] };
}

function limitRow(held: LimitHeldBody, setting: Setting): Row {
  const { words, clock, figures } = setting;
  const measure = (value: number | null) => (value === null ? words.unknown : figures.measure(value, held.unit));
  const beyond =
    held.beyondMin === null || held.beyondMin === 0 ? [] : [words.says.beyond(figures.duration(held.beyondMin))];
  return [
    words.limits[held.limit],
    words.spans[held.span],
    measure(held.limitValue),
    [measure(held.worst), ...beyond].join("; "),
    held.worstAt === null ? "" : clock.stamp(msOf(held.worstAt)),
    outcomeCell(held.outcome, setting),
  ];
}

export function limitsPart(paper: Paper, { limits, sheet }: CoatRecordBody, setting: Setting): void {
  const { words } = setting;
  const { labels } = words;
  heading(paper, words.sections.limits, words.help.limits);
  table(
    paper,
    [
      { title: labels.limit, share: 25 },
      { title: labels.when, share: 17 },
      { title: labels.limit, share: 20 },
      { title: labels.worst, share: 27 },
      { title: labels.at, share: 25 },
      { title: labels.outcome, share: 15 },
    ],
    limits.map((held) => limitRow(held, setting)),
  );
  cureRows(paper, sheet.sheet, setting);
}

/** The sheet as it was in force: its limits stand above, its hours here. */
function cureRows(paper: Paper, sheet: SheetBody, { words, figures }: Setting): void {
  const { labels } = words;
  heading(paper, words.sections.sheet);
  const hours = (h: number | null) => (h === null ? "–" : figures.hours(h));
  table(
    paper,
    [
      { title: labels.slab, share: 26 },
      { title: labels.recoatMinimum, share: 22 },
      { title: labels.maximum, share: 22 },
      { title: labels.dewSafe, share: 18 },
      { title: labels.foot, share: 16 },
      { title: labels.traffic, share: 16 },
    ],
    sheet.cure.map((row) => [
      figures.temperature(row.slabC),
      hours(row.recoatFromH),
      hours(row.recoatUntilH),
      hours(row.dewSafeH),
      hours(row.footH),
      hours(row.trafficH),
    ]),
  );
}

export function passagePart(paper: Paper, heading_: string, passage: PassageBody | null, setting: Setting): void {
  if (passage === null) return;
  const { words, clock, figures } = setting;
  const { labels } = words;
  const earned = ({ share, reachedAt, estimated }: PassageBody["recoat"]): string =>
    [
      reachedAt === null ? words.says.earned(figures.percent(share * 100)) : clock.stamp(msOf(reachedAt)),
      ...(estimated ? [labels.estimate] : []),
    ].join(", ");
  const marginAt = passage.lowestMarginAt === null ? "" : `, ${clock.stamp(msOf(passage.lowestMarginAt))}`;
  const badly = (text: string, bad: boolean): Cell => ({
    text,
    face: bad ? "bold" : "plain",
    colour: bad ? INK.stop : INK.ink,
  });
  heading(paper, heading_);
  facts(paper, [
    [labels.film, `${words.chart.pour(passage.coat + 1)}, ${passage.sheet}`],
    [labels.span, clock.span(msOf(passage.pouredFrom), msOf(passage.until), words.to)],
    [labels.elapsed, figures.hours(passage.elapsedH)],
    [labels.hottestHour, passage.hottestHourC === null ? words.unknown : figures.temperature(passage.hottestHourC)],
    [labels.recoatMinimum, earned(passage.recoat)],
    [
      labels.maximum,
      passage.noMaximum
        ? labels.noMaximum
        : passage.closedAt === null
          ? labels.notClosed
          : badly(`${labels.closed} ${clock.stamp(msOf(passage.closedAt))}`, true),
    ],
    [labels.dewSafe, earned(passage.dewSafe)],
    [
      labels.lowestMargin,
      passage.lowestMarginK === null
        ? words.unknown
        : badly(
            `${figures.difference(passage.lowestMarginK)}${marginAt}`,
            passage.lowestMarginK < passage.marginLimitK,
          ),
    ],
    [labels.belowLimit, badly(figures.duration(passage.belowLimitMin), passage.belowLimitMin > 0)],
    [labels.inDew, badly(figures.duration(passage.inDewMin), passage.inDewMin > 0)],
    [labels.foot, earned(passage.foot)],
    [labels.traffic, earned(passage.traffic)],
    [labels.longestGap, badly(figures.duration(passage.longestGapMin), passage.longestGapMin > 30)],
  ]);
}
