// The takeoff of one zone from the log: its coats, the resin as it is known now, and what was mixed of each coat.
import { standingOf } from "#core/record/pours.ts";
import { type Resin, resinFrom } from "#core/takeoff/resin.ts";
import { type CoatTakeoff, coatTakeoff } from "#core/takeoff/takeoff.ts";
import type { JournalEntry } from "#core/zone/journal.ts";
import type { SiteLog } from "#core/zone/site.ts";
import { type ZoneState, zoneState } from "#core/zone/state.ts";
import type { ZoneNow } from "#core/zone/zones.ts";

export type CoatState = "down" | "pouring" | "next" | "to-come";
export type MixedEntry = Extract<JournalEntry, { did: "mixed" }>;

export interface CoatNow {
  readonly takeoff: CoatTakeoff;
  readonly state: CoatState;
  /** What was mixed of it so far, oldest first. */
  readonly mixed: readonly MixedEntry[];
}

export interface ZoneTakeoff {
  readonly zone: ZoneNow;
  readonly resin: Resin;
  readonly coats: readonly CoatNow[];
  /** Coats whose sheet is not there. */
  readonly unknownCoats: readonly number[];
}

/** The temperature of the resin as it is known in a zone now. */
export function resinOfZone({ record, conditions, moment }: ZoneState): Resin {
  const last = record.measured.filter((entry) => entry.resinC !== undefined).at(-1);
  const reading = last?.resinC === undefined ? null : { resinC: last.resinC, atMs: last.atMs };
  return resinFrom(reading, conditions, moment.nowMs);
}

function stateOf({ record }: ZoneState, coat: number): CoatState {
  if (record.pouring?.coat === coat) return "pouring";
  if (record.film !== null && coat <= record.film.coat) return "down";
  return coat === record.nextCoat ? "next" : "to-come";
}

/** Every coat of the zone at `nowMs`, first to last. Throws RangeError if the zone is not in the log. */
export function zoneTakeoff(log: SiteLog, zone: string, nowMs: number): ZoneTakeoff {
  const state = zoneState(log, zone, { nowMs, heardByMs: nowMs });
  const resin = resinOfZone(state);
  const mixed = standingOf(log, zone, nowMs).filter((entry): entry is MixedEntry => entry.did === "mixed");
  const floor = { areaM2: state.zone.areaM2, crew: state.zone, resinC: resin.resinC };
  const { system } = state.record;
  return {
    zone: state.zone,
    resin,
    coats: system.flatMap((sheet, coat) =>
      sheet === null
        ? []
        : [
            {
              takeoff: coatTakeoff(coat, sheet, floor),
              state: stateOf(state, coat),
              mixed: mixed.filter((entry) => entry.coat === coat).sort((a, b) => a.atMs - b.atMs),
            },
          ],
    ),
    unknownCoats: system.flatMap((sheet, coat) => (sheet === null ? [coat] : [])),
  };
}
