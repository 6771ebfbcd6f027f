// Ratios to the peers as they were once measured: a later run fails only where one has become half as good.
import type { Figure } from "./figure.ts";

/** A full run of 2026-11-27, two cores of an Intel Xeon at 2.5 GHz. */
export const BASELINE: Readonly<Record<string, number>> = {
  "ingest, built-in broker: stored, acknowledged, judged": 0.715,
  "ingest, built-in broker: computing time of a pack": 0.841,
  "ingest, Mosquitto: stored, acknowledged, judged": 0.567,
  "ingest, Mosquitto: computing time of a pack": 2.79,
  "a reading on the disk": 0.671,
};

/**
 * The same of the smallest run, which the tests make: only what other programs on the machine hardly move, computing time
 * and bytes. Programs that have just started are slower than in a long run, and so are these. Twice measured on 2026-11-27, load 12
 * on two cores of an Intel Xeon at 2.5 GHz: 1.75 and 1.79, 4.59 and 4.52, 0.563 and 0.571.
 */
export const TINY_BASELINE: Readonly<Record<string, number>> = {
  "ingest, built-in broker: computing time of a pack": 1.77,
  "ingest, Mosquitto: computing time of a pack": 4.55,
  "a reading on the disk": 0.57,
};

const MORE_IS_BETTER = /\/s$/;

/** Says of each figure that has become half as good beside its peer what it is and was. */
export function halved(figures: readonly Figure[], baseline: Readonly<Record<string, number>>): string[] {
  return figures.flatMap(({ what, value, unit, peer }) => {
    const before = baseline[what];
    if (before === undefined || peer === null) return [];
    const ratio = value / peer.value;
    const better = MORE_IS_BETTER.test(unit) ? ratio / before : before / ratio;
    return better < 0.5 ? [`${what}: ratio ${ratio.toPrecision(3)}, it was ${before}`] : [];
  });
}
