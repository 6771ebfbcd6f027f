// Lines to the engine, and the ones that it refuses found by halving: one bad point costs itself only.
import type { RefusedLine } from "./outbox.ts";
import { NotNow, type WriteLines } from "./influx-write.ts";

/** Reasons that speak of the points. Any other might be of the request, and then no point is to blame. */
const OF_POINTS =
  /partial write|unable to parse|field type conflict|retention|left out|dropped=|line protocol|too long/i;
/** So many refused one by one, and none taken: it is not the points. */
const NOT_THE_POINTS = 16;

/**
 * Resolves with the lines that were refused when all others have arrived; throws `NotNow` when they could not. Lines
 * that had arrived may go out once more then.
 */
export async function deliver(
  lines: readonly string[],
  write: WriteLines,
  signal: AbortSignal,
): Promise<readonly RefusedLine[]> {
  const refused: RefusedLine[] = [];
  let taken = 0;
  let blamed = 0;
  const blame = (some: readonly string[], reason: string): void => {
    refused.push(...some.map((line) => ({ line, reason })));
    if (!OF_POINTS.test(reason)) blamed += some.length;
    if (taken === 0 && blamed >= NOT_THE_POINTS) throw new NotNow(`refuses every point: ${reason}`);
  };
  const send = async (some: readonly string[]): Promise<void> => {
    const written = await write(some, signal);
    if (written.ok) taken += some.length;
    else if (some.length === 1 || written.dropped === some.length) blame(some, written.reason);
    else {
      const half = Math.ceil(some.length / 2);
      await send(some.slice(0, half));
      await send(some.slice(half));
    }
  };
  await send(lines);
  const [first] = refused;
  if (taken === 0 && blamed > 0 && first !== undefined) throw new NotNow(`refuses every point: ${first.reason}`);
  return refused;
}
