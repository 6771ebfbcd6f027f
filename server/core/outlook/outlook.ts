// The outlook: what the conditions of a zone may do in the coming hours, as weighted members.

/** One possible course of the coming hours; arrays share the outlook's time steps. */
export interface OutlookMember {
  /** Share of belief, the members of an outlook sum to 1. */
  readonly weight: number;
  readonly slabColdC: Float64Array;
  readonly slabHotC: Float64Array;
  readonly airC: Float64Array;
  readonly dewPointC: Float64Array;
}

/** What the outlook was made from; shown to people beside it. */
export type OutlookBasis = "two-nights" | "feed" | "typed" | "outdoor-node" | "heating-plan" | "heat-off";

/** What the air says of the heat: it holds, it falls as a heated building does without heat, or people logged it off. */
export type HeatSeen = "holds" | "falls" | "logged-off";

export interface Outlook {
  readonly fromMs: number;
  readonly stepMs: number;
  readonly steps: number;
  readonly basis: readonly OutlookBasis[];
  /** When the fetch of the weather feed was made that it used; null without one. */
  readonly feedFetchedMs: number | null;
  /** Left out where there is no warm room to lose heat from, or nobody can say. */
  readonly heatSeen?: HeatSeen;
  readonly members: readonly OutlookMember[];
}

/** 10, 50 and 90 % quantiles of one quantity over the time steps. */
export interface Fan {
  readonly q10: readonly number[];
  readonly q50: readonly number[];
  readonly q90: readonly number[];
}

/** A stretch of the coming hours with the call foreseen in it and its lowest chance there. */
export interface CallAhead {
  readonly fromMs: number;
  readonly toMs: number;
  readonly call: "pour" | "wait" | "abrade" | "finished";
  readonly chance: number;
}

/** When something is foreseen: 10, 50 and 90 % quantiles of its time; null where so many members do not reach it. */
export interface FanTime {
  readonly earliestMs: number | null;
  readonly likelyMs: number | null;
  readonly latestMs: number | null;
  /** Chance that it happens within the outlook. */
  readonly chance: number;
}

/** The film's milestones as foreseen, and the race between its hardening and its window. */
export interface FilmView {
  readonly opens: FanTime;
  readonly closes: FanTime;
  readonly dewSafe: FanTime;
  readonly walkOn: FanTime;
  readonly driveOn: FanTime;
  /** Chance that the window closes before it has opened and the zone has been poured. */
  readonly chanceLost: number;
}

/** Chance that a rule has failed at least once by the end of each coming hour; one value an hour, never falling. */
export interface RuleAhead {
  readonly rule: string;
  readonly byHour: readonly number[];
}

/** What people see of the outlook: fans, the film ahead, the rules that may fail, and the calls to come. */
export interface NightView {
  readonly fromMs: number;
  readonly stepMs: number;
  readonly basis: readonly OutlookBasis[];
  readonly marginK: Fan;
  readonly slabColdC: Fan;
  readonly airC: Fan;
  readonly dewPointC: Fan;
  readonly calls: readonly CallAhead[];
  /** null on a bare slab. */
  readonly film: FilmView | null;
  /** Rules of the conditions that may fail within the outlook; a rule that cannot is left out. */
  readonly failing: readonly RuleAhead[];
  /** Age of the weather feed that was used; null without one. */
  readonly feedAgeS: number | null;
}
