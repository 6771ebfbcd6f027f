// The journal as it stands in the chain, the heads of the days, and what the document is and is not.
import type { ChainedEntryBody, DayHeadBody } from "#contract/record-parts.ts";
import { INK, type Paper } from "./paper.ts";
import { saidOf } from "./said.ts";
import { heading, msOf, type Setting } from "./setting.ts";
import { type Cell, table } from "./table.ts";

export function journalPart(paper: Paper, journal: readonly ChainedEntryBody[], setting: Setting): void {
  const { words, clock } = setting;
  const { labels } = words;
  heading(paper, words.sections.journal, words.help.journal);
  if (journal.length === 0) return paper.tell(words.none);
  table(
    paper,
    [
      { title: labels.at, share: 23 },
      { title: labels.logged, share: 23 },
      { title: labels.by, share: 12 },
      { title: labels.what, share: 16 },
      { title: labels.details, share: 39 },
      { title: labels.hash, share: 12 },
    ],
    journal.map(({ entry, undoneBy, hash }) => {
      const gone: Partial<Cell> = undoneBy === null ? {} : { face: "slanted", colour: INK.dim };
      const details = [saidOf(entry, setting), ...(undoneBy === null ? [] : [words.says.undoneBy(undoneBy)])];
      const site = (entry.zone ?? null) === null ? [words.said["site"] ?? ""] : [];
      return [
        { text: clock.stamp(msOf(entry.at)), ...gone },
        { text: entry.heardAt === undefined ? "" : clock.stamp(msOf(entry.heardAt)), ...gone },
        { text: entry.by ?? words.noName, ...gone },
        { text: words.did[entry.did], ...gone },
        { text: [...site, ...details, entry.id ?? ""].filter((part) => part !== "").join(" · "), ...gone },
        hash === null ? "" : `${hash.slice(0, 8)}…`,
      ];
    }),
  );
}

export function headsPart(paper: Paper, heads: readonly DayHeadBody[], { words }: Setting): void {
  const { labels } = words;
  heading(paper, words.sections.heads, words.help.heads);
  if (heads.length === 0) return paper.tell(words.none);
  table(
    paper,
    [
      { title: labels.day, share: 13 },
      { title: labels.head, share: 70 },
      { title: labels.counts, share: 27 },
    ],
    heads.map(({ day, head, closed, entries, callCount, readingCount }) => [
      day,
      // All sixty-four letters: whoever compares must be able to.
      closed ? head : `${head} (${labels.open})`,
      `${entries}, ${callCount}, ${readingCount}`,
    ]),
  );
}

export function noticePart(paper: Paper, notice: readonly string[], setting: Setting): void {
  const { words } = setting;
  const lines = [...notice, words.help.exact];
  const ink = { size: 8.4 } as const;
  // Kept in one piece: half of what a document is not would say something else.
  paper.need(40 + lines.reduce((sum, text) => sum + paper.tall(text, ink) + 2.5, 0));
  heading(paper, words.sections.isAndIsNot);
  for (const text of lines) {
    paper.tell(text, ink);
    paper.space(2.5);
  }
}
