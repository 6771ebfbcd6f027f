// The record of a coat as a document: the verdict first, then the evidence, then the chain that holds it.
import type { CoatRecordBody } from "#contract/record.ts";
import type { PdfOptions } from "../ports.ts";
import { headsPart, journalPart, noticePart } from "./chain-parts.ts";
import { chart, chartHeight, type ChartWish, scaleOfTwo } from "./chart.ts";
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
/** What two headings take of a page with two charts. */
const HEADINGS = 84;

function chartOf(body: CoatRecordBody, fromMs: number, toMs: number): Omit<ChartWish, "scale" | "withKey"> {
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
    // While the server was off nodes went on measuring: what they sent later is drawn, what is missing is a gap of its own.
    gaps: body.gaps.flatMap(({ from, to, reason }) =>
      reason === "server-off" ? [] : [{ fromMs: msOf(from), toMs: msOf(to) }],
    ),
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

/** The whole time, and the night of the coat once more where the whole is too long to read it; both on one page. */
function conditions(paper: Paper, body: CoatRecordBody, setting: Setting): void {
  const { sections, help } = setting.words;
  const [fromMs, toMs] = [msOf(body.from), msOf(body.to)];
  if (!(toMs > fromMs)) return;
  const long = toMs - fromMs > CLOSE_MS;
  const small = scaleOfTwo(paper.bottom - paper.top - HEADINGS);
  const whole = { ...chartOf(body, fromMs, toMs), scale: long ? small : 1, withKey: !long };
  paper.need(long ? paper.bottom - paper.top : chartHeight(whole) + HEADINGS);
  heading(paper, sections.conditions, help.chart);
  chart(paper, whole, setting);
  if (!long) return;
  const pourMs = msOf(body.pour.from);
  const dryMs =
    body.after === null || body.after.dewSafe.reachedAt === null ? toMs : msOf(body.after.dewSafe.reachedAt);
  const close = {
    fromMs: Math.max(fromMs, pourMs - 2 * HOUR_MS),
    toMs: Math.min(toMs, Math.max(dryMs, msOf(body.pour.to)) + HOUR_MS, pourMs + LONGEST_CLOSE_MS),
  };
  heading(paper, sections.closer);
  chart(paper, { ...chartOf(body, close.fromMs, close.toMs), scale: small, withKey: true }, setting);
}

function handOverPart(paper: Paper, { handOver }: CoatRecordBody, setting: Setting): void {
  if (handOver === null) return;
  heading(paper, setting.words.sections.handOver, setting.words.help.handOver);
  useRows(paper, handOver, setting);
}

/** Between two parts whatever else waits gets its turn: readings come in while a document is drawn. */
async function inTurn(parts: readonly (() => void)[]): Promise<void> {
  for (const part of parts) {
    part();
    await new Promise<void>((resolve) => void setImmediate(resolve));
  }
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
      const before = [
        () => coatHead(paper, body, setting),
        () => overridesPart(paper, body.overrides, setting),
        () => limitsPart(paper, body, setting),
        () => conditions(paper, body, setting),
        () => passagePart(paper, sections.before, body.before, setting),
        () => passagePart(paper, sections.after, body.after, setting),
        () => gapsPart(paper, body, setting),
        () => fieldRulesPart(paper, body, setting),
        () => handReadingsPart(paper, body, setting),
        () => entriesPart(paper, sections.work, body.surfaceWork, setting),
        () => entriesPart(paper, sections.tests, [...body.moisture, ...body.profile, ...body.adhesion], setting),
        () => heatPart(paper, body, setting),
        () => probesPart(paper, body, setting),
        () => handOverPart(paper, body, setting),
      ];
      const after = [
        () => callsPart(paper, body, setting),
        () => journalPart(paper, body.journal, setting),
        () => headsPart(paper, body.heads, setting),
        () => noticePart(paper, words.notice, setting),
      ];
      await inTurn(before);
      await photoPart(paper, body.photos, options.photo, setting);
      await inTurn(after);
    },
  );
}
