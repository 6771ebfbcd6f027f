// Checks an exported job: links, readings, heads and pictures. Names the first thing that is not as it was.
import type { HeadParts, SeriesDigest } from "#core/record/chain.ts";
import { NO_HASH } from "#core/record/chain.ts";
import { type Broken, checkLinks, parseLines } from "./check-links.ts";
import { checkReadings } from "./check-readings.ts";
import { headFrom, sha256 } from "./heads-now.ts";
import type { JobContents } from "./job-files.ts";
import type { ChainedRow, ThinnedSeries } from "./ports.ts";

type ReadHead = HeadParts & {
  readonly head: string;
  readonly digests: readonly SeriesDigest[];
  readonly closed: boolean;
};

export interface Sound {
  readonly ok: true;
  readonly site: string;
  readonly days: number;
  readonly entries: number;
  readonly calls: number;
  readonly readings: number;
  readonly photos: number;
  readonly lastDay: string;
  readonly lastHead: string;
  readonly lastClosed: boolean;
  /** Series of closed days that were thinned by age: their digests stand, their rows are no longer here. */
  readonly thinnedSeries: number;
  readonly thinnedDays: number;
}
export type Checked = Sound | { readonly ok: false; readonly broken: Broken };

const text = (files: JobContents, path: string): string | null => {
  const bytes = files.get(path);
  return bytes === undefined ? null : new TextDecoder().decode(bytes);
};
const broken = (
  kind: Broken["kind"],
  day: string | null,
  id: string | null,
  what: string,
  expected: string,
  found: string,
  index: number | null = null,
): Checked => ({ ok: false, broken: { kind, day, id, index, what, expected, found } });

function readHeads(source: string | null): ReadHead[] | null {
  if (source === null) return null;
  try {
    const heads = JSON.parse(source) as ReadHead[];
    const whole =
      Array.isArray(heads) && heads.every((one) => typeof one?.day === "string" && Array.isArray(one.digests));
    return whole ? heads : null;
  } catch {
    return null;
  }
}

/** What age has taken away, day by day; null if the file is no such list. */
function readThinned(source: string | null): ReadonlyMap<string, ReadonlyMap<string, number>> | null {
  if (source === null) return new Map();
  try {
    const days = new Map<string, Map<string, number>>();
    for (const { day, node, quantity, left } of JSON.parse(source) as ThinnedSeries[]) {
      if (typeof day !== "string" || !Number.isSafeInteger(left)) return null;
      days.set(day, (days.get(day) ?? new Map<string, number>()).set(`${node}/${quantity}`, left));
    }
    return days;
  } catch {
    return null;
  }
}

const PARTS = ["prev", "journal", "calls", "readings", "entries", "callCount", "readingCount", "head"] as const;

/** `wanted`: a head known from outside, which must be in the chain. */
export function checkJob(files: JobContents, wanted: string | null = null): Checked {
  const heads = readHeads(text(files, "chain/heads.json"));
  if (heads === null)
    return broken("file", null, "chain/heads.json", "is missing or is no list of heads", "heads", "none");
  const journalText = text(files, "chain/journal.ndjson");
  const callText = text(files, "chain/calls.ndjson");
  if (journalText === null) return broken("file", null, "chain/journal.ndjson", "is missing", "the journal", "none");
  if (callText === null) return broken("file", null, "chain/calls.ndjson", "is missing", "the calls", "none");
  const thinned = readThinned(text(files, "chain/thinned.json"));
  if (thinned === null)
    return broken("file", null, "chain/thinned.json", "is no list of thinned series", "series", "none");
  const site = heads[0]?.site ?? "";
  const journal = checkLinks(site, "journal", parseLines(journalText));
  const calls = checkLinks(site, "call", parseLines(callText));
  let prev = NO_HASH;
  let lastDay = "";
  for (const [at, head] of heads.entries()) {
    const { day } = head;
    // What broke on this day, or before it outside of any day, comes before the head that no longer fits it.
    for (const links of [journal, calls])
      if (links.broken !== null && (links.broken.day ?? day) <= day) return { ok: false, broken: links.broken };
    if (head.site !== site) return broken("head", day, null, "is of another site", site, String(head.site), at + 1);
    if (day <= lastDay)
      return broken("head", day, null, "does not come after the day before it", `> ${lastDay}`, day, at + 1);
    if (head.prev !== prev)
      return broken("head", day, null, "does not follow the head before it", prev, String(head.prev), at + 1);
    const csv = text(files, `chain/readings/${day}.csv`);
    if (csv === null && head.readingCount > 0)
      return broken(
        "readings",
        day,
        `chain/readings/${day}.csv`,
        "is missing",
        `${head.readingCount} readings`,
        "none",
      );
    const reading =
      csv === null ? null : checkReadings(day, csv, head.digests, head.closed ? thinned.get(day) : undefined);
    if (reading !== null) return { ok: false, broken: reading };
    const fresh = headFrom(site, day, prev, journal.rows, calls.rows, head.digests);
    for (const part of PARTS)
      if (head[part] !== fresh[part])
        return broken(
          "head",
          day,
          part,
          `its ${part} is not what stands in this day`,
          String(head[part]),
          String(fresh[part]),
          at + 1,
        );
    prev = head.head;
    lastDay = day;
  }
  for (const links of [journal, calls]) if (links.broken !== null) return { ok: false, broken: links.broken };
  const found = outside(files, heads, journal.rows, calls.rows, wanted);
  const series = [...thinned.values()].reduce((sum, { size }) => sum + size, 0);
  return found.ok ? { ...found, thinnedSeries: series, thinnedDays: thinned.size } : found;
}

/** What no head vouches for, pictures, and the head that somebody holds. */
function outside(
  files: JobContents,
  heads: readonly ReadHead[],
  journal: readonly ChainedRow[],
  calls: readonly ChainedRow[],
  wanted: string | null,
): Checked {
  const days = new Set(heads.map(({ day }) => day));
  for (const [kind, rows] of [
    ["journal", journal],
    ["call", calls],
  ] as const) {
    const index = rows.findIndex(({ day }) => !days.has(day));
    const row = rows[index];
    if (row !== undefined)
      return broken(kind, row.day, null, "no head vouches for its day", "a head", "none", index + 1);
  }
  for (const path of files.keys()) {
    const day = /^chain\/readings\/(.*)\.csv$/.exec(path)?.[1];
    if (day !== undefined && !days.has(day))
      return broken("readings", day, path, "no head vouches for its day", "a head", "none");
  }
  let photos = 0;
  for (const [path, bytes] of files) {
    const id = /^photos\/(.*)\.jpg$/.exec(path)?.[1];
    if (id === undefined) continue;
    photos += 1;
    const found = sha256(bytes);
    if (found !== id) return broken("photo", null, path, "is not the picture of its name", id, found);
  }
  const last = heads.at(-1);
  if (wanted !== null && !heads.some(({ head }) => head === wanted))
    return broken(
      "head",
      last?.day ?? null,
      null,
      "the head asked for is not in this chain",
      wanted,
      last?.head ?? "none",
    );
  return {
    ok: true,
    site: heads[0]?.site ?? "",
    days: heads.length,
    entries: journal.length,
    calls: calls.length,
    readings: heads.reduce((sum, { readingCount }) => sum + readingCount, 0),
    photos,
    lastDay: last?.day ?? "",
    lastHead: last?.head ?? "",
    lastClosed: last?.closed ?? false,
    thinnedSeries: 0,
    thinnedDays: 0,
  };
}
