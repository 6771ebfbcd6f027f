// Which version of a sheet governs a coat: the one it was poured under, unless a later one corrects a slip of typing.
import { sheetDoubts } from "#core/cure/sheet-check.ts";
import type { Sheet } from "#core/cure/sheet.ts";

/** A sheet as it was kept at one moment. A confirmation is kept as its revision once more, with who confirmed it. */
export interface SheetVersion {
  readonly fromMs: number;
  readonly sheet: Sheet;
}

interface Revision {
  readonly fromMs: number;
  readonly corrects: boolean;
  readonly sheet: Sheet;
}

/** A sheet without the mark was typed before anybody was asked for a second look, and counts as confirmed. */
export function isConfirmed(sheet: Sheet): boolean {
  return sheet.confirmed !== null;
}

function isUsable(sheet: Sheet): boolean {
  return isConfirmed(sheet) && sheetDoubts(sheet).length === 0;
}

/** Versions of one sheet as revisions of its numbers, oldest first: a row of the same revision only adds who confirmed it. */
function revisionsOf(versions: readonly SheetVersion[]): Revision[] {
  const revisions: Revision[] = [];
  for (const { fromMs, sheet } of versions) {
    const last = revisions.at(-1);
    const goesOn = sheet.saved !== undefined && last?.sheet.saved?.revision === sheet.saved.revision;
    if (last !== undefined && goesOn) revisions.splice(-1, 1, { ...last, sheet });
    else revisions.push({ fromMs, corrects: sheet.saved?.corrects === true, sheet });
  }
  return revisions;
}

/**
 * The sheet that a coat poured at `usedMs` keeps, from what was known by `heardByMs`; null where no version is known.
 * Poured under one that nobody had confirmed, or that was nonsense, it takes the first later one that can be used.
 */
export function sheetUsedAt(
  versions: readonly SheetVersion[],
  id: string,
  usedMs: number,
  heardByMs: number,
): Sheet | null {
  const known = versions.filter(({ fromMs, sheet }) => sheet.id === id && fromMs <= heardByMs);
  const revisions = revisionsOf(known);
  if (revisions.length === 0) return null;
  // Entered after the pour: the first one is what was poured.
  let at = Math.max(
    0,
    revisions.findLastIndex(({ fromMs }) => fromMs <= usedMs),
  );
  if (!isUsable((revisions[at] as Revision).sheet)) {
    const later = revisions.findIndex(({ sheet }, index) => index > at && isUsable(sheet));
    at = later < 0 ? revisions.length - 1 : later;
  }
  while (revisions[at + 1]?.corrects === true) at++;
  return (revisions[at] as Revision).sheet;
}
