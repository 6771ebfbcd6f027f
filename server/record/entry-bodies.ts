// Parts of a record that are told by single entries: hand readings, overrides, heat, ventilation, probes, the pour.
import { bodyFromEntry, type EntryBody } from "#contract/journal.ts";
import type { CoatRecordBody } from "#contract/record.ts";
import type { ChainedEntryBody } from "#contract/record-parts.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import { dewPointC } from "#core/air/dew-point.ts";
import type { CoatPour } from "#core/record/pours.ts";
import { standingEntries } from "#core/zone/heard.ts";
import type { Did, JournalEntry } from "#core/zone/journal.ts";
import type { ZoneProbes } from "#core/zone/probes.ts";
import type { LinkedCall } from "./ports.ts";

export const round2 = (value: number | null): number | null => (value === null ? null : Math.round(value * 100) / 100);

export function bodiesOf(entries: readonly JournalEntry[], ...kinds: readonly Did[]): EntryBody[] {
  return entries.filter(({ did }) => kinds.includes(did)).map(bodyFromEntry);
}

export function pourBody(pour: CoatPour): CoatRecordBody["pour"] {
  return {
    entry: pour.last.id,
    from: isoFromMs(pour.fromMs),
    to: isoFromMs(pour.toMs),
    loggedAt: isoFromMs(pour.last.heardMs),
    by: pour.last.by,
    product: pour.product,
    batches: pour.batches.map((batch) => ({ ...batch })),
    people: [...pour.people],
    broadcast: pour.last.broadcast ?? null,
  };
}

export function handReadings(entries: readonly JournalEntry[]): CoatRecordBody["handReadings"] {
  return entries.flatMap((entry) => {
    if (entry.did !== "measured") return [];
    const { airC = null, rhPct = null, slabC = null, resinC = null } = entry;
    const dewC = airC !== null && rhPct !== null && rhPct > 0 ? dewPointC(airC, rhPct) : null;
    return [
      {
        entry: entry.id,
        at: isoFromMs(entry.atMs),
        by: entry.by,
        instrument: entry.instrument ?? null,
        calibratedOn: entry.calibratedOn ?? null,
        slabC,
        airC,
        rhPct,
        resinC,
        dewPointC: round2(dewC),
        marginK: round2(slabC === null || dewC === null ? null : slabC - dewC),
      },
    ];
  });
}

export function overrides(entries: readonly JournalEntry[], calls: readonly LinkedCall[]): CoatRecordBody["overrides"] {
  return entries.flatMap((entry) => {
    if (entry.did !== "overrode") return [];
    const at = isoFromMs(entry.atMs);
    const stood = calls.filter(({ call }) => Date.parse(call.at) <= entry.atMs).at(-1)?.call;
    return [
      {
        entry: entry.id,
        at,
        by: entry.by,
        call: entry.call,
        why: entry.why,
        stood: stood === undefined ? null : { call: stood.call, limiting: stood.limiting, at: stood.at },
      },
    ];
  });
}

/** From each switching on until the next word on heat; a plan names its own times. */
export function heatStretches(entries: readonly JournalEntry[]): CoatRecordBody["heat"] {
  const all = entries.flatMap((entry) => (entry.did === "heating" ? [entry] : []));
  return all.flatMap((entry, index) => {
    if (!entry.on) return [];
    return [
      {
        entry: entry.id,
        from: isoFromMs(entry.fromMs ?? entry.atMs),
        to: isoOrNull(entry.toMs ?? all[index + 1]?.atMs ?? null),
        vented: entry.vented ?? null,
        kW: entry.kW ?? null,
        fuel: entry.fuel ?? null,
        targetC: entry.targetC ?? null,
        by: entry.by,
      },
    ];
  });
}

export function ventilation(entries: readonly JournalEntry[]): CoatRecordBody["ventilation"] {
  const all = entries.flatMap((entry) => (entry.did === "ventilated" ? [entry] : []));
  return all.flatMap((entry, index) =>
    entry.on
      ? [
          {
            entry: entry.id,
            from: isoFromMs(entry.atMs),
            to: isoOrNull(all[index + 1]?.atMs ?? null),
            how: entry.how ?? null,
            by: entry.by,
          },
        ]
      : [],
  );
}

export function probeBodies({ slab, chips }: ZoneProbes): CoatRecordBody["probes"] {
  const finite = (atMs: number) => (Number.isFinite(atMs) ? isoFromMs(atMs) : null);
  const placeOf = (place: { place?: string; xM?: number; yM?: number } | null | undefined) => ({
    place: place?.place ?? null,
    xM: place?.xM ?? null,
    yM: place?.yM ?? null,
  });
  return [
    ...slab.map(({ name, node, place, movedMs, retiredMs }) => ({
      probe: name,
      ...placeOf(place),
      accuracy: node.accuracy.slabK,
      movedAt: finite(movedMs),
      retiredAt: finite(retiredMs),
    })),
    ...chips.flatMap(({ node, retiredMs }) =>
      (["air", "rh"] as const).map((quantity) => ({
        probe: `${node.id}/${quantity}`,
        ...placeOf(node.probes?.[quantity]),
        accuracy: quantity === "air" ? node.accuracy.airK : node.accuracy.rhPct,
        movedAt: null,
        retiredAt: finite(retiredMs),
      })),
    ),
  ];
}

/** Every entry of the zone and the site, those taken back included, each with its hash and what took it back. */
export function chainedEntries(
  journal: readonly JournalEntry[],
  hashes: ReadonlyMap<string, string>,
  nowMs: number,
): ChainedEntryBody[] {
  const standing = new Set(standingEntries(journal, nowMs).map(({ id }) => id));
  return journal.map((entry) => ({
    entry: bodyFromEntry(entry),
    undoneBy: standing.has(entry.id) ? null : (journal.filter(({ undoes }) => undoes === entry.id).at(-1)?.id ?? null),
    hash: hashes.get(entry.id) ?? null,
  }));
}
