// The first page of a coat's record: what was laid, and the four things to know of it before anything else.
import type { CoatRecordBody } from "#contract/record.ts";
import { INK, type Paper } from "./paper.ts";
import { heading, msOf, type Setting, title } from "./setting.ts";
import { facts } from "./table.ts";

const minutesOf = ({ from, to }: { readonly from: string; readonly to: string | null }, endMs: number) =>
  ((to === null ? endMs : msOf(to)) - msOf(from)) / 60_000;

interface Known {
  readonly label: string;
  readonly text: string;
  readonly bad: boolean;
}

/** Four boxes; what was not as it should be stands in the colour of a stop, and in capitals where words can. */
function boxes(paper: Paper, known: readonly Known[]): void {
  const gap = 8;
  const width = (paper.width - gap * (known.length - 1)) / known.length;
  const textInk = { size: 9.4, face: "bold", width: width - 12, leading: 0.6 } as const;
  const height = 20 + Math.max(...known.map(({ text }) => paper.tall(text, textInk)));
  paper.need(height);
  for (const [index, { label, text, bad }] of known.entries()) {
    const x = paper.left + index * (width + gap);
    paper.doc
      .save()
      .rect(x, paper.y, width, height)
      .lineWidth(bad ? 1.4 : 0.6)
      .fillAndStroke(INK.wash, bad ? INK.stop : INK.line)
      .restore();
    paper.write(label, x + 6, paper.y + 5, { size: 7.2, colour: INK.dim, width: width - 12 });
    paper.write(text, x + 6, paper.y + 15, { ...textInk, colour: bad ? INK.stop : INK.ink });
  }
  paper.y += height;
  paper.space(8);
}

/** Who typed the sheet and who held it against the page; sheets of an earlier program do not say. */
function secondLook({ saved, confirmed }: CoatRecordBody["sheet"]["sheet"], { words, clock }: Setting) {
  const { labels } = words;
  const named = (by: string | null | undefined, at: string) => `${by ?? words.noName}, ${clock.stamp(msOf(at))}`;
  return [
    ...(saved?.at === undefined ? [] : [[labels.sheetTyped, { text: named(saved.by, saved.at) }] as const]),
    ...(confirmed === undefined
      ? []
      : confirmed === null
        ? [[labels.sheetConfirmed, { text: labels.sheetUnconfirmed, face: "bold", colour: INK.stop }] as const]
        : [
            [
              labels.sheetConfirmed,
              { text: named(confirmed.by, confirmed.at) + (confirmed.same ? ` (${labels.samePerson})` : "") },
            ] as const,
          ]),
  ];
}

export function coatHead(paper: Paper, body: CoatRecordBody, setting: Setting): void {
  const { words, clock, figures } = setting;
  const { labels } = words;
  const { site, zone, pour, sheet } = body;
  const endMs = msOf(body.to);
  title(paper, words.titles.coat, [
    `${site.name ?? site.id} · ${zone.name}`,
    words.coatOf(body.coat + 1, zone.system.length, sheet.sheet.name),
  ]);
  const count = (outcome: string) => body.limits.filter((limit) => limit.outcome === outcome).length;
  const gaps = body.gaps.flatMap((gap) => (gap.reason === "server-off" ? [] : [minutesOf(gap, endMs)]));
  boxes(paper, [
    {
      label: labels.poured,
      text: clock.span(msOf(pour.from), msOf(pour.to), words.to),
      bad: false,
    },
    {
      label: words.labels.limits,
      text: words.says.limitsMet(count("met"), count("not-met"), count("unknown")),
      bad: count("not-met") > 0,
    },
    {
      label: words.sections.overrides,
      text: words.says.overrides(body.overrides.length),
      bad: body.overrides.length > 0,
    },
    {
      label: words.labels.gaps,
      text: `${words.says.gaps(gaps.length, figures.duration(Math.max(0, ...gaps)))}\n${words.says.faults(body.faults.length)}`,
      bad: gaps.length + body.faults.length > 0,
    },
  ]);
  heading(paper, words.sections.what);
  const stamp = (iso: string) => clock.stamp(msOf(iso));
  const batches = pour.batches.map(({ part, number }) => (part === undefined ? number : `${part}: ${number}`));
  facts(paper, [
    [labels.job, `${site.name ?? site.id} (${site.id})`],
    [labels.zone, `${zone.name} (${zone.id})`],
    [labels.area, `${figures.area(zone.areaM2)}, ${labels[zone.base]}`],
    [labels.duration, figures.duration((msOf(pour.to) - msOf(pour.from)) / 60_000)],
    [labels.product, pour.product ?? sheet.sheet.name],
    [labels.batches, batches.length === 0 ? words.none : batches.join("; ")],
    [labels.people, pour.people.length === 0 ? words.none : pour.people.join(", ")],
    [labels.broadcast, pour.broadcast === null ? words.none : labels[pour.broadcast]],
    [labels.logged, `${stamp(pour.loggedAt)}, ${pour.by ?? words.noName}`],
    [labels.sheetVersion, `${sheet.sheet.name} (${sheet.sheet.id}), ${sheet.version}, ${stamp(sheet.since)}`],
    ...secondLook(sheet.sheet, setting),
    ...sheet.changedAt.map((at) => [labels.sheetChanged, { text: stamp(at), face: "bold", colour: INK.stop }] as const),
    [labels.span, clock.span(msOf(body.from), msOf(body.to), words.to)],
    [labels.state, body.complete ? labels.complete : { text: words.says.stillRunning, face: "bold" }],
    [labels.made, stamp(body.madeAt)],
    [labels.times, `${body.timezone}, UTC${clock.offset(msOf(pour.from))}`],
    [labels.ruleVersions, body.ruleVersions.join(", ")],
  ]);
}
