// The order of the test files: programs and browsers that mostly wait go side by side with arithmetic that never does, and
// nothing long is begun last.
import type { TestSpecification } from "vitest/node";
import { BaseSequencer } from "vitest/node";

/**
 * What has no state and no neighbours by the law of imports, so that one process may go through many files of it. They
 * come last and in one row: a process is kept only while the next file is such a one too.
 */
export const PURE = ["core", "contract", "golden"] as const;

/** Files and folders that take longest, longest first, as runs on two cores showed. The order is all that hangs on it. */
const LONG = [
  "browser/access",
  "browser/every-page",
  "browser/dialogs",
  "browser/zone",
  "keeping/chaos",
  "firmware-sim/demo.test",
  "live/feed",
  "replay/command",
  "bench/",
  "browser/",
  "ways-in/commands",
  "firmware-sim/scenario/demo-night",
  "ingest/process",
  "firmware-sim/main.test",
  "live/replay-equals-live",
  "ingest/",
  "live/pipeline",
  "office/",
  "http/fuzz",
  "firmware-sim/",
  "core/judge/properties",
  "golden/",
  "house/",
];

/** Where a path stands among the long ones; after all of them if it is short. */
function rankOf(path: string): number {
  const rank = LONG.findIndex((part) => path.includes(`/tests/${part}`));
  return rank === -1 ? LONG.length : rank;
}

/** Long ones spread evenly among the short, longest first; then the pure ones, longest first. */
export function mixed<T>(items: readonly T[], pathOf: (item: T) => string): T[] {
  const ranked = items
    .map((item) => ({ item, path: pathOf(item), rank: rankOf(pathOf(item)) }))
    .sort((a, b) => a.rank - b.rank || (a.path < b.path ? -1 : 1));
  const isPure = (path: string) => PURE.some((folder) => path.includes(`/tests/${folder}/`));
  const pure = ranked.filter(({ path }) => isPure(path));
  const others = ranked.filter(({ path }) => !isPure(path));
  const long = others.filter(({ rank }) => rank < LONG.length);
  const short = others.slice(long.length);
  const upTo = (nth: number) => Math.round((nth * short.length) / Math.max(long.length, 1));
  const spread = long.flatMap((one, index) => [one, ...short.slice(upTo(index), upTo(index + 1))]);
  return [...(long.length === 0 ? short : spread), ...pure].map(({ item }) => item);
}

export default class Order extends BaseSequencer {
  override sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return Promise.resolve(mixed(files, ({ moduleId }) => moduleId));
  }
}
