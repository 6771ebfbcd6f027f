// The order of the test files: programs and browsers that mostly wait go side by side with arithmetic that never does, and
// nothing long is begun last.
import type { TestSpecification } from "vitest/node";
import { BaseSequencer } from "vitest/node";

/**
 * What has no state and no neighbours by the law of imports, so that one process may go through many files of it. They
 * come last and in one row: a process is kept only while the next file is such a one too.
 */
export const PURE = ["core", "contract", "golden"] as const;

/**
 * Files that start what they need and end it, so that one process may go through many of them as well: reading the server's
 * modules anew for each took longer than the tests. What puts a module in another's place has a process of its own.
 */
export const SHARED = [
  ...[
    "dashboard",
    "feed",
    "http",
    "ingest",
    "live",
    "notify",
    "office",
    "people",
    "record",
    "settings",
    "store",
    "stream",
  ],
] as const;
export const APART = ["tests/live/takeoff-fails.test.ts"] as const;

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
  "core/judge/properties",
  "golden/",
];

/** Where a path stands among the long ones; after all of them if it is short. */
function rankOf(path: string): number {
  const rank = LONG.findIndex((part) => path.includes(`/tests/${part}`));
  return rank === -1 ? LONG.length : rank;
}

/** 0: a process of its own; 1: shared; 2: pure. */
function rowOf(path: string): number {
  const within = (folders: readonly string[]) => folders.some((folder) => path.includes(`/tests/${folder}/`));
  if (within(PURE)) return 2;
  return within(SHARED) && !APART.some((apart) => path.endsWith(apart)) ? 1 : 0;
}

/** Long ones spread evenly among the short, longest first; then the shared and then the pure ones, longest first. */
export function mixed<T>(items: readonly T[], pathOf: (item: T) => string): T[] {
  const ranked = items
    .map((item) => ({ item, path: pathOf(item), rank: rankOf(pathOf(item)), row: rowOf(pathOf(item)) }))
    .sort((a, b) => a.rank - b.rank || (a.path < b.path ? -1 : 1));
  const inRow = (row: number) => ranked.filter((one) => one.row === row);
  const own = inRow(0);
  const long = own.filter(({ rank }) => rank < LONG.length);
  const short = own.slice(long.length);
  const upTo = (nth: number) => Math.round((nth * short.length) / Math.max(long.length, 1));
  const spread = long.flatMap((one, index) => [one, ...short.slice(upTo(index), upTo(index + 1))]);
  return [...(long.length === 0 ? short : spread), ...inRow(1), ...inRow(2)].map(({ item }) => item);
}

export default class Order extends BaseSequencer {
  override sort(files: TestSpecification[]): Promise<TestSpecification[]> {
    return Promise.resolve(mixed(files, ({ moduleId }) => moduleId));
  }
}
