// What is remembered of a zone between judgings: its call, its night ahead, and its past.
import type { BoardZoneBody } from "#contract/board.ts";
import { bodyFromCall, type CallBody } from "#contract/call.ts";
import { bodyFromNightView, type OutlookBody } from "#contract/outlook.ts";
import { msFromIso } from "#contract/primitives.ts";
import type { Judged } from "#core/judge/judged.ts";
import { type Again, callNow } from "#core/judge/look-again.ts";
import type { Word } from "./past.ts";

/** What the past needs of a call that was shown: its strip, what is seen with hindsight, a night file. A call is twenty times as large. */
export type ShownCall = Pick<CallBody, "at" | "zone" | "call" | "limiting" | "steps" | "ruleVersion"> & {
  readonly next: Pick<NonNullable<CallBody["next"]>, "call"> | null;
};

function shownOf({ at, zone, call, limiting, steps, ruleVersion, next }: CallBody): ShownCall {
  return { at, zone, call, limiting, steps, ruleVersion, next: next && { call: next.call } };
}

export interface Margin {
  readonly fromMs: number;
  readonly marginK: readonly (number | null)[];
}

/** A zone as the board wrote it, and what it was written from: it stands while that is the same. */
export interface Written {
  readonly of: {
    readonly changes: number;
    /** How many there are of each. */
    readonly recorded: number;
    readonly hindsight: number;
    readonly revised: number;
    readonly entries: number;
    readonly siteMs: number;
    readonly newestMs: number | null;
    /** A few seconds share one. */
    readonly slot: number;
  };
  readonly body: BoardZoneBody;
}

export class ZoneMemory {
  private shown: CallBody | null = null;
  private looked: Again | null = null;
  outlook: OutlookBody | null = null;
  marginLimitK: number | null = null;
  /** Past margins, and when they were made; made again when a minute has passed or something late was heard. */
  margin: Margin | null = null;
  marginMadeMs = Number.NEGATIVE_INFINITY;
  /** Counts what changed of the above; what was written of a zone stands while it is the same. */
  changes = 0;
  written: Written | null = null;
  /** Calls with hindsight by their moment; null where the zone could not be judged. */
  readonly hindsight = new Map<number, Word | null>();

  /** What today's log says of moments at which a call was shown, where something of them was heard late. */
  readonly revised = new Map<number, Word | null>();
  /** From when on shown calls may look different by now; null = nothing was heard late. */
  lateFromMs: number | null = null;

  /** Calls as they were shown, oldest first. */
  readonly recorded: ShownCall[];
  /** The last of them, whole. */
  lastRecorded: CallBody | null;

  constructor(recorded: readonly CallBody[]) {
    this.recorded = recorded.map(shownOf);
    this.lastRecorded = recorded.at(-1) ?? null;
  }

  record(call: CallBody): void {
    this.recorded.push(shownOf(call));
    this.lastRecorded = call;
  }

  /** The call as it stands, with the numbers of the last look at it; null before the first judging. */
  get call(): CallBody | null {
    if (this.looked !== null) this.shown = bodyFromCall(callNow(this.looked));
    this.looked = null;
    return this.shown;
  }

  show({ view, marginLimitK }: Judged, call: CallBody): void {
    this.shown = call;
    this.looked = null;
    this.changes += 1;
    this.outlook = view === null ? null : bodyFromNightView(view);
    this.marginLimitK = marginLimitK;
  }

  /** The call stands with fresh numbers: written out when somebody asks, since packets come more often than questions. */
  look(again: Again): void {
    this.looked = again;
    this.changes += 1;
  }

  /** Something that happened at `atMs` was heard only now: what was said of the time after it is void. */
  doubtFrom(atMs: number): void {
    for (const at of this.hindsight.keys()) if (at >= atMs) this.hindsight.delete(at);
    this.marginMadeMs = Number.NEGATIVE_INFINITY;
    this.changes += 1;
  }

  /** Something of a time at which calls were shown was heard late: they are judged once more, beside. */
  lateFrom(atMs: number): void {
    this.lateFromMs = Math.min(this.lateFromMs ?? atMs, atMs);
    for (const at of this.revised.keys()) if (at >= atMs) this.revised.delete(at);
    this.changes += 1;
  }

  /** Lets go of what is older, but for the call that stood then. */
  forgetBefore(fromMs: number): void {
    for (const known of [this.hindsight, this.revised])
      for (const at of known.keys()) if (at < fromMs - 3_600_000) known.delete(at);
    while (this.recorded.length > 1 && msFromIso(this.recorded[1]?.at ?? "") <= fromMs) this.recorded.shift();
  }
}
