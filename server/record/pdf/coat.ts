// The record of a coat as a document: the verdict first, then the evidence, then the chain that holds it.
import type { CoatRecordBody } from "#contract/record.ts";
import type { PdfOptions } from "../ports.ts";
import { headsPart, journalPart, noticePart } from "./chain-parts.ts";
import { chart, CHART_HEIGHT, type ChartWish } from "./chart.ts";
import { callsPart, overridesPart } from "./coat-calls.ts";
import { entriesPart, fieldRulesPart, gapsPart, handReadingsPart, heatPart, probesPart } from "./coat-evidence.ts";
import { coatHead } from "./coat-head.ts";
import { limitsPart, passagePart } from "./coat-limits.ts";
import { useRows } from "./hand-over.ts";
import { onPaper, type Paper } from "./paper.ts";
import { photoPart } from "./photo-part.ts";
import { heading, msOf, type Setting, settingOf, sheetSize } from "./setting.ts";

const HOUR_MS = 3_600_000;
/** Beyond this a whole record is too narrow to read a night in it, and the night gets a chart of its own. */
const CLOSE_MS = 40 * HOUR_MS;
const LONGEST_CLOSE_MS = 48 * HOUR_MS;

function chartOf(body: CoatRecordBody, fromMs: number, toMs: number): ChartWish {
  const endMs = msOf(body.to);
  const { limits } = body.sheet.sheet;
  const { after, before, pour } = body;
  const pours = [
    ...(before === null ? [] : [{ fromMs: msOf(before.pouredFrom), toMs: msOf(before.pouredTo), coat: before.coat }]),
    { fromMs: msOf(pour.from), toMs: msOf(pour.to), coat: body.coat },
  ];
  return {
    fromMs,
    toMs,
    conditions: body.conditions,
    gaps: body.gaps.map(({ from, to }) => ({ fromMs: msOf(from), toMs: msOf(to) })),
    calls: body.calls.map(({ at, until, call }) => ({
      fromMs: msOf(at),
      toMs: until === null ? endMs : msOf(until),
      call,
    })),
    pours,
    dewSensitive:
      after === null
        ? null
        : {
            fromMs: msOf(pour.from),
            toMs: after.dewSafe.reachedAt === null ? msOf(after.until) : msOf(after.dewSafe.reachedAt),
          },
    overrides: body.overrides.map(({ at }) => msOf(at)),
    handReadings: body.handReadings.map(({ at, slabC, marginK }) => ({ atMs: msOf(at), slabC, marginK })),
    marginLimitK: limits.dewMarginK,
    slabC: limits.slabC,
    rhPct: limits.rhPct,
  };
}

function conditions(paper: Paper, body: CoatRecordBody, setting: Setting): void {
  const { words } = setting;
  const [fromMs, toMs] = [msOf(body.from), msOf(body.to)];
  if (!(toMs > fromMs)) return;
  paper.turn();
  heading(paper, words.sections.conditions, words.help.chart);
  chart(paper, chartOf(body, fromMs, toMs), setting);
  if (toMs - fromMs <= CLOSE_MS) return;
  const pourMs = msOf(body.pour.from);
  const dryMs =
    body.after === null || body.after.dewSafe.reachedAt === null ? toMs : msOf(body.after.dewSafe.reachedAt);
  const closeTo = Math.min(toMs, Math.max(dryMs, msOf(body.pour.to)) + HOUR_MS, pourMs - HOUR_MS + LONGEST_CLOSE_MS);
  paper.need(CHART_HEIGHT + 40);
  heading(paper, words.sections.closer);
  chart(paper, chartOf(body, Math.max(fromMs, pourMs - HOUR_MS), closeTo), setting);
}

export function coatPdf(body: CoatRecordBody, options: PdfOptions): Promise<Uint8Array> {
  const setting = settingOf(options, body.timezone);
  const { words } = setting;
  const { sections } = words;
  const place = `${body.site.name ?? body.site.id} · ${body.zone.name}`;
  const title = `${words.titles.coat}: ${place}, ${words.coatOf(body.coat + 1, body.zone.system.length, body.sheet.sheet.name)}`;
  return onPaper(
    {
      size: sheetSize(options),
      title,
      subject: words.notice[1] ?? "",
      language: options.language,
      madeMs: msOf(body.madeAt),
      foot: `${title} · ${words.labels.made.toLowerCase()} ${setting.clock.stamp(msOf(body.madeAt))}`,
      pageOf: words.page,
    },
    async (paper) => {
      coatHead(paper, body, setting);
      overridesPart(paper, body.overrides, setting);
      limitsPart(paper, body, setting);
      conditions(paper, body, setting);
      passagePart(paper, sections.before, body.before, setting);
      passagePart(paper, sections.after, body.after, setting);
      gapsPart(paper, body, setting);
      fieldRulesPart(paper, body, setting);
      handReadingsPart(paper, body, setting);
      entriesPart(paper, sections.work, body.surfaceWork, setting);
      entriesPart(paper, sections.tests, [...body.moisture, ...body.profile, ...body.adhesion], setting);
      heatPart(paper, body, setting);
      probesPart(paper, body, setting);
      if (body.handOver !== null) {
        heading(paper, sections.handOver, words.help.handOver);
        useRows(paper, body.handOver, setting);
      }
      await photoPart(paper, body.photos, options.photo, setting);
      callsPart(paper, body, setting);
      journalPart(paper, body.journal, setting);
      headsPart(paper, body.heads, setting);
      noticePart(paper, words.notice, setting);
    },
  );
}
