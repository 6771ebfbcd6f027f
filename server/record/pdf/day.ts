// The summary of one day of a site: every zone on a few lines, what people wrote down, and the day's heads.
import type { DaySummaryBody } from "#contract/record.ts";
import type { PdfOptions } from "../ports.ts";
import { callPatch, callStrip } from "./call-strip.ts";
import { headsPart, noticePart } from "./chain-parts.ts";
import { overridesPart } from "./coat-calls.ts";
import { entriesPart, gapsPart } from "./coat-evidence.ts";
import { INK, onPaper, type Paper } from "./paper.ts";
import { hourTicks, timeAxis } from "./scale.ts";
import { heading, msOf, type Setting, settingOf, sheetSize, title } from "./setting.ts";
import { facts } from "./table.ts";

type ZoneDay = DaySummaryBody["zones"][number];
const STRIP = 13;

function dayStrip(paper: Paper, body: DaySummaryBody, zone: ZoneDay, { clock, words }: Setting): void {
  const endMs = Math.min(msOf(body.to), msOf(body.madeAt));
  const time = timeAxis(msOf(body.from), msOf(body.to), paper.left, paper.width);
  const parts = zone.calls.map(({ from, to, call }) => ({
    fromMs: msOf(from),
    toMs: to === null ? endMs : msOf(to),
    call,
  }));
  callStrip(paper, time, parts, paper.y, STRIP);
  for (const { coat, from, to } of zone.poured) {
    const x = time.x(msOf(from));
    paper.doc
      .save()
      .rect(x, paper.y - 4, Math.max(1.5, time.x(msOf(to)) - x), 3)
      .fill(INK.pour)
      .restore();
    paper.write(words.chart.pour(coat + 1), x, paper.y - 12, { size: 6.6, face: "bold", colour: INK.pour });
  }
  for (const { atMs, hour } of hourTicks(clock, time.fromMs, time.toMs, 9)) {
    const x = Math.min(time.left + time.width - 12, Math.max(time.left + 12, time.x(atMs)));
    paper.write(`${String(hour).padStart(2, "0")}:00`, x - 20, paper.y + STRIP + 2, {
      size: 6.4,
      colour: INK.dim,
      width: 40,
      align: "center",
    });
  }
  paper.y += STRIP + 13;
}

function zonePart(paper: Paper, body: DaySummaryBody, zone: ZoneDay, setting: Setting): void {
  const { words, clock, figures } = setting;
  const { labels } = words;
  paper.need(130);
  heading(paper, zone.name);
  if (zone.poured.length > 0) paper.space(9);
  dayStrip(paper, body, zone, setting);
  const degrees = (c: number | null) => (c === null ? words.unknown : figures.temperature(c));
  const poured = zone.poured.map(
    ({ coat, sheet, from, to }) =>
      `${words.chart.pour(coat + 1)}${sheet === null ? "" : ` (${sheet})`}: ${clock.span(msOf(from), msOf(to), words.to)}`,
  );
  const marginAt = zone.lowestMarginAt === null ? "" : `, ${clock.stamp(msOf(zone.lowestMarginAt))}`;
  facts(paper, [
    [labels.coats, poured.length === 0 ? words.none : poured.join("; ")],
    [
      labels.lowestMargin,
      zone.lowestMarginK === null ? words.unknown : `${figures.difference(zone.lowestMarginK)}${marginAt}`,
    ],
    [labels.slabCold, degrees(zone.slabColdC)],
    [labels.slabHot, degrees(zone.slabHotC)],
    [labels.airSpan, `${degrees(zone.airColdC)} ${words.to} ${degrees(zone.airHotC)}`],
    [labels.rhMax, zone.rhMaxPct === null ? words.unknown : figures.percent(zone.rhMaxPct)],
  ]);
  if (zone.overrides.length > 0) overridesPart(paper, zone.overrides, setting);
  if (zone.gaps.length + zone.faults.length > 0) gapsPart(paper, zone, setting);
}

function key(paper: Paper, { words }: Setting): void {
  let x = paper.left;
  for (const call of ["pour", "wait", "abrade", "finished"] as const) {
    callPatch(paper, call, x, paper.y, 16, 8);
    paper.write(words.calls[call], x + 19, paper.y + 1, { size: 6.8, colour: INK.dim });
    x += 32 + paper.wide(words.calls[call], { size: 6.8 });
  }
  paper.space(14);
}

export function dayPdf(body: DaySummaryBody, options: PdfOptions): Promise<Uint8Array> {
  const setting = settingOf(options, body.timezone);
  const { words, clock } = setting;
  const site = body.site.name ?? body.site.id;
  return onPaper(
    {
      size: sheetSize(options),
      title: `${words.titles.day}: ${site}, ${body.day}`,
      subject: words.notice[1] ?? "",
      language: options.language,
      madeMs: msOf(body.madeAt),
      foot: `${words.titles.day}: ${site}, ${body.day} · ${words.labels.made.toLowerCase()} ${clock.stamp(msOf(body.madeAt))}`,
      pageOf: words.page,
    },
    (paper) => {
      title(paper, words.titles.day, [
        `${site} · ${body.day}`,
        `${clock.span(msOf(body.from), msOf(body.to), words.to)} · ${body.timezone}`,
      ]);
      key(paper, setting);
      for (const zone of body.zones) zonePart(paper, body, zone, setting);
      entriesPart(paper, words.sections.journal, body.entries, setting);
      headsPart(paper, body.heads, setting);
      noticePart(paper, words.notice, setting);
    },
  );
}
