// Checks the readings of a day against the digests of its series.
import { createHash } from "node:crypto";
import { readingText, type SeriesDigest } from "#core/record/chain.ts";
import type { Broken } from "./check-links.ts";

const HEAD = "node,quantity,at_ms,value,heard_ms";
const ROW = /^([A-Za-z0-9_-]+),([a-z]+(?:\.[0-9]{1,3})?),(-?\d+),(-?[\d.e+-]+),(-?\d+)$/;

/**
 * The first line or series that is not as it was hashed; null if all are. `left`: series that age has thinned since, with
 * the rows that were left: their digest stands, and what is left of them cannot be held against it.
 */
export function checkReadings(
  day: string,
  csv: string,
  digests: readonly SeriesDigest[],
  left: ReadonlyMap<string, number> = new Map(),
): Broken | null {
  const lines = csv.split("\r\n");
  if (lines.at(-1) === "") lines.pop();
  const fault = (index: number | null, id: string | null, what: string, expected: string, found: string): Broken => ({
    day,
    kind: "readings",
    index,
    id,
    what,
    expected,
    found,
  });
  if (lines[0] !== HEAD)
    return fault(1, null, "the first line is not the names of the columns", HEAD, lines[0] ?? "nothing");
  const series = new Map<string, { hash: ReturnType<typeof createHash>; count: number; lastMs: number }>();
  for (const [at, line] of lines.slice(1).entries()) {
    const index = at + 2;
    const found = ROW.exec(line);
    if (found === null)
      return fault(index, null, "the line is no reading", "node,quantity,at_ms,value,heard_ms", line.slice(0, 80));
    const [, node = "", quantity = "", atText = "", valueText = "", heardText = ""] = found;
    const [atMs, value, heardMs] = [Number(atText), Number(valueText), Number(heardText)];
    const id = `${node}/${quantity}`;
    if (String(value) !== valueText)
      return fault(index, id, "the value is not written as it is hashed", String(value), valueText);
    const known = series.get(id) ?? { hash: createHash("sha256"), count: 0, lastMs: Number.NEGATIVE_INFINITY };
    if (atMs <= known.lastMs)
      return fault(index, id, "does not come after the reading before it", `> ${known.lastMs}`, atText);
    known.hash.update(readingText(node, quantity, atMs, value, heardMs), "utf8");
    series.set(id, { hash: known.hash, count: known.count + 1, lastMs: atMs });
  }
  for (const { node, quantity, count, digest } of digests) {
    const id = `${node}/${quantity}`;
    const read = series.get(id);
    const most = left.get(id);
    if (most !== undefined) {
      if (read !== undefined && read.count > Math.min(most, count))
        return fault(null, id, "has more readings than were left of it", `${Math.min(most, count)}`, `${read.count}`);
      series.delete(id);
      continue;
    }
    if (read === undefined) return fault(null, id, "its readings are missing", `${count} readings`, "none");
    if (read.count !== count)
      return fault(null, id, "readings are missing or too many", `${count} readings`, `${read.count}`);
    const found = read.hash.digest("hex");
    if (found !== digest) return fault(null, id, "a reading is not what was hashed", digest, found);
    series.delete(id);
  }
  const extra = [...series.keys()][0];
  return extra === undefined
    ? null
    : fault(null, extra, "no such series was kept on this day", "none", `${series.get(extra)?.count} readings`);
}
