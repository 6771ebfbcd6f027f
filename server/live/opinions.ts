// Second opinions of a zone, as the sensors page shows them: made from its state, kept nowhere.
import { isoFromMs } from "#contract/primitives.ts";
import type { ZoneOpinionsBody } from "#contract/second-opinion.ts";
import { dewPointSlope } from "#core/air/dew-point.ts";
import { neighbourPairs } from "#core/zone/neighbour-pairs.ts";
import { saltChecksOf } from "#core/zone/salt-check.ts";
import { opinionsOf } from "#core/zone/second-opinion.ts";
import type { ZoneState } from "#core/zone/state.ts";

/** Enough for the page; the journal has all. */
const SHOWN = 60;

function baggedNow({ record }: ZoneState): ZoneOpinionsBody["bagged"] {
  const ended = (probe: string, fromMs: number) =>
    [...record.saltChecked, ...record.moved].some((entry) => entry.atMs >= fromMs && entry.probe === probe);
  return record.saltBagged
    .filter(({ probe, atMs }) => !ended(probe, atMs))
    .map(({ probe, salt, atMs }) => ({ probe, salt, since: isoFromMs(atMs) }));
}

export function zoneOpinions(state: ZoneState): ZoneOpinionsBody {
  const { record, probes, moment, conditions } = state;
  const { airMinC, rhMaxPct } = conditions;
  const kPerRhPct =
    airMinC === null || rhMaxPct === null ? null : dewPointSlope(airMinC, Math.min(rhMaxPct, 100)).kPerRhPct;
  return {
    zone: state.zone.id,
    opinions: opinionsOf(probes, record, moment)
      .reverse()
      .slice(0, SHOWN)
      .map(({ atMs, ...opinion }) => ({ ...opinion, at: isoFromMs(atMs) })),
    saltChecks: saltChecksOf(record)
      .reverse()
      .slice(0, SHOWN)
      .map(({ atMs, node, ...check }) => ({
        ...check,
        at: isoFromMs(atMs),
        probe: `${node}/rh`,
        dewK: kPerRhPct === null ? null : kPerRhPct * check.errorPct,
      })),
    bagged: baggedNow(state),
    pairs: neighbourPairs(probes, moment.nowMs),
  };
}
