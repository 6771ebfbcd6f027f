// Which probes may speak: every doubt is raised here, and a person's word lifts it.
import type { Moment } from "#core/zone/heard.ts";
import type { ZoneProbes } from "#core/zone/probes.ts";
import type { ZoneRecord } from "#core/zone/record.ts";
import type { Voices } from "#core/zone/timeline.ts";
import { clockDoubts } from "#core/zone/trust/clock.ts";
import { detachedDoubt } from "#core/zone/trust/detached.ts";
import type { Doubt } from "#core/zone/trust/doubt.ts";
import { conflictDoubts, sunStruckDoubts } from "#core/zone/trust/neighbours.ts";
import { ownDewPointDoubt } from "#core/zone/trust/own-dew-point.ts";
import { saturatedDoubt } from "#core/zone/trust/saturated.ts";
import { unitDoubts } from "#core/zone/trust/unit.ts";

export interface Trust {
  readonly doubts: readonly Doubt[];
  readonly voices: Voices;
}

const some = <T>(value: T | null): T[] => (value === null ? [] : [value]);

/** A person vouched for the probe after the doubt arose; only a later finding can raise it again. */
function vouched(doubt: Doubt, record: ZoneRecord): boolean {
  return record.trusted.some(
    (entry) => entry.probe === doubt.probe && (doubt.kind === "unit" || entry.atMs >= doubt.sinceMs),
  );
}

/** Judges every probe of a zone. A doubted probe loses its voice; a doubted slab probe keeps its vote. */
export function trustOf(probes: ZoneProbes, record: ZoneRecord, moment: Moment): Trust {
  const slab = probes.slab.filter((probe) => probe.retiredMs > moment.nowMs);
  const chips = probes.chips.filter((chip) => chip.retiredMs > moment.nowMs);
  const all = [
    ...chips.flatMap((chip) => [...some(saturatedDoubt(chip)), ...some(ownDewPointDoubt(chip))]),
    ...slab.flatMap((probe) => some(detachedDoubt(probe, chips, moment.nowMs))),
    ...unitDoubts(slab, chips),
    ...conflictDoubts(slab, moment.nowMs),
    ...sunStruckDoubts(chips, moment.nowMs),
    ...clockDoubts(probes.series, moment),
  ];
  const doubts = all.filter((doubt) => !vouched(doubt, record));
  const nodeOf = (probe: string) => probe.slice(0, probe.indexOf("/"));
  const isSlab = (probe: string) => probe.includes("/slab");
  const silencing = doubts.filter((doubt) => doubt.kind !== "sun-struck" && doubt.kind !== "conflict");
  const badClock = new Set(silencing.filter((doubt) => doubt.kind === "clock").map((doubt) => nodeOf(doubt.probe)));
  const badChipNodes = new Set(silencing.filter((doubt) => !isSlab(doubt.probe)).map((doubt) => nodeOf(doubt.probe)));
  const badSlab = new Set(silencing.filter((doubt) => isSlab(doubt.probe)).map((doubt) => doubt.probe));
  return {
    doubts,
    voices: {
      slab: probes.slab,
      chips: probes.chips,
      quarantinedSlab: new Set(
        probes.slab
          .filter((probe) => badSlab.has(probe.name) || badClock.has(probe.node.id))
          .map((probe) => probe.name),
      ),
      quarantinedChips: new Set(
        probes.chips
          .filter((chip) => badChipNodes.has(chip.node.id) || badClock.has(chip.node.id))
          .map((chip) => chip.name),
      ),
      dewPointOnlyChips: new Set(doubts.filter((doubt) => doubt.kind === "sun-struck").map((doubt) => doubt.probe)),
    },
  };
}
