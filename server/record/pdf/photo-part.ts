// Photos of a record: two a row, each with its time, its words and its whole hash.
import type { EntryBody } from "#contract/journal.ts";
import type { PdfOptions } from "../ports.ts";
import { INK, type Paper } from "./paper.ts";
import { heading, msOf, type Setting } from "./setting.ts";

const HIGH = 168;
const GAP = 14;
/** More would make a document that nobody can send; the export has them all. */
const MOST = 40;

export async function photoPart(
  paper: Paper,
  entries: readonly EntryBody[],
  photo: PdfOptions["photo"],
  setting: Setting,
): Promise<void> {
  const photos = entries.flatMap((entry) => (entry.did === "photographed" ? [entry] : []));
  if (photos.length === 0) return;
  const { words, clock } = setting;
  heading(paper, words.sections.photos, words.help.photos);
  const width = (paper.width - GAP) / 2;
  const rows = photos.slice(0, MOST);
  for (let index = 0; index < rows.length; index += 2) {
    const pair = await Promise.all(
      rows.slice(index, index + 2).map(async (entry) => ({ entry, bytes: await photo(entry.photo) })),
    );
    paper.need(HIGH + 48);
    for (const [side, { entry, bytes }] of pair.entries()) {
      const x = paper.left + side * (width + GAP);
      if (bytes === null)
        paper.doc.save().rect(x, paper.y, width, HIGH).lineWidth(0.5).strokeColor(INK.stop).stroke().restore();
      else paper.doc.image(Buffer.from(bytes), x, paper.y, { fit: [width, HIGH], align: "center", valign: "bottom" });
      if (bytes === null)
        paper.write(words.unknown, x, paper.y + HIGH / 2, { width, align: "center", colour: INK.stop });
      const said = [
        clock.stamp(msOf(entry.at)),
        entry.by ?? words.noName,
        entry.of === undefined ? undefined : words.said[entry.of],
        entry.sheet,
        entry.probe,
        entry.note,
      ]
        .filter((part) => part !== undefined)
        .join(" · ");
      const tall = paper.write(said, x, paper.y + HIGH + 4, { size: 7.4, width });
      paper.write(`${entry.photo.slice(0, 32)}\n${entry.photo.slice(32)}`, x, paper.y + HIGH + 5 + tall, {
        size: 6.4,
        colour: INK.dim,
        width,
        leading: 0,
      });
    }
    paper.y += HIGH + 46;
  }
}
