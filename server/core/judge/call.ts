// The call: the verdict for a zone, why, until when, and what comes next.
import type { Step } from "#core/cure/sheet.ts";

export type CallWord = "pour" | "wait" | "abrade" | "finished";
export type Outcome = "pass" | "caution" | "stop" | "unknown";

/** Every rule, in the order of judgement. The place in this list decides `limiting`. */
export const RULE_IDS = [
  "data-missing",
  "data-stale",
  "data-fault",
  "data-conflict",
  "unit-doubt",
  "clock-doubt",
  "sheet-invalid",
  "record-missing",
  "hold",
  "filler-soft",
  "film-soft",
  "cure-short",
  "blush",
  "inspect-due",
  "window-closed",
  "abrasion-stale",
  "dust",
  "frost",
  "condensing",
  "surface-damp",
  "slab-cold",
  "slab-hot",
  "air-cold",
  "air-hot",
  "air-damp",
  "air-dry",
  "vapour-low",
  "dew-margin",
  "slab-rising",
  "slab-moisture",
  "resin-temp",
  "hand-check",
  "not-sustained",
  "finish-late",
  "night-unknown",
  "night-dew",
  "night-cold",
] as const;
export type RuleId = (typeof RULE_IDS)[number];

/** The unit of a rule's numbers: C a temperature, K a difference, the rest as written. */
export type RuleUnit = "C" | "K" | "%RH" | "g/kg" | "h" | "min" | "s" | "1" | "K/h" | "lb" | "g/m2" | "m2";

export interface RuleResult {
  readonly rule: RuleId;
  readonly outcome: Outcome;
  readonly measured: number | null;
  readonly limit: number | null;
  readonly unit: RuleUnit | null;
  /** `node/quantity` of the probe that governs; null when no single probe does. */
  readonly probe: string | null;
  /** Since when the finding stands (closed since, last heard, found at); null when it has no such moment. */
  readonly sinceMs: number | null;
  /** A short word for a finding with several causes, e.g. the fault kind; null when the rule says it all. */
  readonly detail: string | null;
}

export interface PourPlan {
  readonly latestStartAtMs: number | null;
  readonly lastMixAtMs: number | null;
  /** Last square metre down: at the latest start if there is one, else if started now. */
  readonly finishByMs: number;
  readonly batchCapL: number | null;
  /** What can be covered before the window closes; the whole zone when it fits. */
  readonly fitsM2: number;
}

export interface NextCall {
  readonly call: CallWord;
  readonly earliestMs: number;
  readonly likelyMs: number;
  readonly chance: number;
}

export interface NightAhead {
  readonly hours: number;
  readonly chanceHolds: number;
  readonly lowestMarginK: readonly [q10: number, q50: number, q90: number];
  readonly lowestAtMs: number;
}

export type WindowState = "none" | "not-yet" | "open" | "closed" | "lost";

export interface WindowNow {
  readonly state: WindowState;
  readonly opensAtMs: number | null;
  readonly closesAtMs: number | null;
  /** Earned part of the recoat minimum; 1 = reached. null without a film. */
  readonly earned: number | null;
}

/** The film that is on the floor. */
export interface FilmNow {
  readonly coat: number;
  readonly sheet: string;
  readonly pouredFromMs: number;
  readonly pouredToMs: number;
  readonly dewSafeEarned: number | null;
  readonly dewSensitive: boolean;
  readonly dewSafeAtMs: number | null;
  readonly walkOnAtMs: number | null;
  readonly driveOnAtMs: number | null;
  /** Some of its hours are our estimate, not printed on the sheet. */
  readonly estimated: boolean;
}

export interface ConditionsNow {
  readonly slabColdC: number | null;
  readonly slabHotC: number | null;
  readonly airC: number | null;
  readonly rhPct: number | null;
  readonly dewPointC: number | null;
  readonly marginK: number | null;
  readonly marginUncertaintyK: number | null;
  readonly slabSlopeKPerH: number | null;
  /** Age of the oldest reading that the call needs, seconds; null when nothing was heard. */
  readonly ageS: number | null;
}

export interface Call {
  readonly site: string;
  readonly zone: string;
  readonly atMs: number;
  readonly call: CallWord;
  readonly limiting: RuleId | null;
  readonly rules: readonly RuleResult[];
  readonly steps: readonly Step[];
  readonly validUntilMs: number | null;
  readonly pour: PourPlan | null;
  readonly next: NextCall | null;
  readonly night: NightAhead | null;
  readonly window: WindowNow;
  readonly film: FilmNow | null;
  /** The coat that would be laid next; null when none remains. */
  readonly nextCoat: number | null;
  /** A pour is in progress. */
  readonly pouring: boolean;
  readonly conditions: ConditionsNow;
  readonly ruleVersion: string;
}
