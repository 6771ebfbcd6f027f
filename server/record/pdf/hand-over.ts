// The page for the client: what the floor may be used for and not before when, and what to keep warm and shut until then.
import type { HandOverBody, UseBody } from "#contract/hand-over.ts";
import type { PdfOptions } from "../ports.ts";
import { noticePart } from "./chain-parts.ts";
import { onPaper, type Paper } from "./paper.ts";
import { heading, msOf, type Setting, settingOf, sheetSize, title } from "./setting.ts";
import { facts, table } from "./table.ts";

function whenOf({ state, reachedAt, notBefore }: UseBody, { words, clock }: Setting): string {
  const at = state === "reached" ? reachedAt : notBefore;
  const said = words.useStates[state];
  return at === null || state === "unknown" || state === "ask-the-sheet" ? said : `${said} ${clock.stamp(msOf(at))}`;
}

export function useRows(paper: Paper, { uses }: HandOverBody, setting: Setting): void {
  const { words, figures } = setting;
  const { labels } = words;
  table(
    paper,
    [
      { title: labels.use, share: 24 },
      { title: labels.when, share: 56 },
      { title: labels.note, share: 28 },
    ],
    uses.map((use) => [
      { text: words.uses[use.use], face: "bold" },
      whenOf(use, setting),
      [
        ...(use.earned === null ? [] : [words.says.earned(figures.percent(Math.min(1, use.earned) * 100))]),
        ...(use.estimated ? [labels.estimate] : []),
      ].join(", "),
    ]),
  );
}

function bigUses(paper: Paper, body: HandOverBody, setting: Setting): void {
  const { words } = setting;
  for (const use of body.uses) {
    const when = whenOf(use, setting);
    const tall = Math.max(paper.tall(when, { size: 12, width: paper.width - 170 }), 16);
    paper.need(tall + 12);
    paper.write(words.uses[use.use], paper.left, paper.y, { size: 12, face: "bold", width: 160 });
    paper.write(when, paper.left + 170, paper.y, { size: 12, width: paper.width - 170 });
    paper.y += tall + 5;
    if (use.estimated && use.state !== "ask-the-sheet")
      paper.y += paper.write(words.labels.estimate, paper.left + 170, paper.y - 4, { size: 8 }) - 2;
    paper.doc
      .moveTo(paper.left, paper.y)
      .lineTo(paper.left + paper.width, paper.y)
      .lineWidth(0.4)
      .strokeColor("#b9b6ac")
      .stroke();
    paper.space(7);
  }
}

export function handOverPdf(body: HandOverBody, options: PdfOptions): Promise<Uint8Array> {
  const setting = settingOf(options, body.timezone);
  const { words, clock, figures } = setting;
  const { labels } = words;
  const place = `${body.site.name ?? body.site.id} · ${body.zone.name}`;
  const until = (at: string | null) => (at === null ? "" : `, ${words.until} ${clock.stamp(msOf(at))}`);
  return onPaper(
    {
      size: sheetSize(options),
      title: `${words.titles.handOver}: ${place}`,
      subject: words.handOverNotice[0] ?? "",
      language: options.language,
      madeMs: msOf(body.madeAt),
      foot: `${words.titles.handOver}: ${place} · ${labels.made.toLowerCase()} ${clock.stamp(msOf(body.madeAt))}`,
      pageOf: words.page,
    },
    (paper) => {
      const { film } = body;
      title(paper, words.titles.handOver, [
        place,
        film === null ? words.none : words.coatOf(film.coat + 1, body.zone.system.length, film.name),
      ]);
      facts(paper, [
        [labels.made, clock.stamp(msOf(body.madeAt))],
        [labels.times, `${body.timezone}, UTC${clock.offset(msOf(body.madeAt))}`],
        ...(film === null
          ? []
          : ([[labels.poured, clock.span(msOf(film.pouredFrom), msOf(film.pouredTo), words.to)]] as const)),
        [labels.area, figures.area(body.zone.areaM2)],
      ]);
      heading(paper, words.sections.uses, words.help.handOver);
      paper.space(4);
      bigUses(paper, body, setting);
      if (body.keepWarm !== null || body.keepShut !== null) {
        heading(paper, words.sections.keep);
        if (body.keepWarm !== null)
          paper.tell(
            `${labels.keepWarm} ${figures.temperature(body.keepWarm.slabMinC)}${until(body.keepWarm.until)}.`,
            { size: 10.5 },
          );
        if (body.keepShut !== null)
          paper.tell(
            `${labels.keepShut} ${figures.difference(body.keepShut.marginMinK)}${until(body.keepShut.until)}.`,
            { size: 10.5 },
          );
      }
      noticePart(paper, words.handOverNotice, setting);
    },
  );
}
