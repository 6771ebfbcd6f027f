// The words of a document in one language. Spanish must have every one that English has: the compiler asks for it.
import type { UseBody } from "#contract/hand-over.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { FaultBody, FieldRuleBody, GapBody, LimitHeldBody } from "#contract/record-parts.ts";
import type { RuleId } from "#core/judge/call.ts";

export type Outcome = LimitHeldBody["outcome"];

export interface Words {
  readonly titles: { readonly coat: string; readonly day: string; readonly handOver: string };
  readonly page: (page: number, pages: number) => string;
  readonly coatOf: (coat: number, coats: number, sheet: string) => string;
  readonly yes: string;
  readonly no: string;
  readonly none: string;
  readonly unknown: string;
  readonly to: string;
  readonly and: string;
  readonly until: string;
  readonly running: string;
  readonly noName: string;
  readonly calls: Readonly<Record<"pour" | "wait" | "abrade" | "finished", string>>;
  readonly outcomes: Readonly<Record<Outcome, string>>;
  readonly ruleOutcomes: Readonly<Record<"pass" | "caution" | "stop" | "unknown", string>>;
  readonly rules: Readonly<Record<RuleId, string>>;
  readonly steps: Readonly<Record<"wash" | "abrade" | "clean", string>>;
  readonly limits: Readonly<Record<LimitHeldBody["limit"], string>>;
  readonly spans: Readonly<Record<LimitHeldBody["span"], string>>;
  readonly fieldRules: Readonly<Record<FieldRuleBody["rule"], string>>;
  /** Names of the numbers that a rule of the field rests on, without their unit. */
  readonly facts: Readonly<Record<string, string>>;
  readonly commonPractice: string;
  readonly gaps: Readonly<Record<GapBody["reason"], string>>;
  readonly faults: Readonly<Record<FaultBody["kind"], string>>;
  readonly did: Readonly<Record<EntryBody["did"], string>>;
  readonly said: Readonly<Record<string, string>>;
  readonly uses: Readonly<Record<UseBody["use"], string>>;
  readonly useStates: Readonly<Record<UseBody["state"], string>>;
  readonly sections: Readonly<
    Record<
      | "what"
      | "conditions"
      | "closer"
      | "limits"
      | "before"
      | "after"
      | "probes"
      | "handReadings"
      | "fieldRules"
      | "calls"
      | "overrides"
      | "gaps"
      | "heat"
      | "work"
      | "tests"
      | "handOver"
      | "photos"
      | "journal"
      | "heads"
      | "sheet"
      | "isAndIsNot"
      | "zones"
      | "uses"
      | "keep",
      string
    >
  >;
  readonly help: Readonly<
    Record<
      | "limits"
      | "fieldRules"
      | "calls"
      | "gaps"
      | "noGaps"
      | "noOverrides"
      | "journal"
      | "heads"
      | "photos"
      | "chart"
      | "handOver"
      | "exact",
      string
    >
  >;
  readonly labels: Readonly<Record<Label, string>>;
  readonly chart: {
    readonly temperatures: string;
    readonly margin: string;
    readonly humidity: string;
    readonly calls: string;
    readonly pour: (coat: number) => string;
    readonly slabMin: string;
    readonly slabMax: string;
    readonly rhMin: string;
    readonly rhMax: string;
    readonly marginLimit: string;
    readonly dewHere: string;
    readonly dewSensitive: string;
    readonly gap: string;
    readonly cold: string;
    readonly hot: string;
    readonly air: string;
    readonly dewPoint: string;
    readonly forbidden: string;
    readonly hand: string;
    readonly override: string;
  };
  readonly says: {
    readonly limitsMet: (met: number, notMet: number, unknown: number) => string;
    readonly overrides: (n: number) => string;
    readonly gaps: (n: number, longest: string) => string;
    readonly faults: (n: number) => string;
    readonly earned: (share: string) => string;
    readonly beyond: (how: string) => string;
    readonly undoneBy: (id: string) => string;
    readonly stillRunning: string;
    readonly moreCalls: (n: number) => string;
    readonly probeAt: (probe: string) => string;
  };
  /** What the document is and what it is not. */
  readonly notice: readonly string[];
  readonly handOverNotice: readonly string[];
}

export type Label =
  | "job"
  | "zone"
  | "area"
  | "base"
  | "porous"
  | "sealed"
  | "poured"
  | "duration"
  | "logged"
  | "by"
  | "people"
  | "product"
  | "sheet"
  | "sheetVersion"
  | "sheetTyped"
  | "sheetConfirmed"
  | "sheetUnconfirmed"
  | "samePerson"
  | "sheetChanged"
  | "batches"
  | "broadcast"
  | "full"
  | "partial"
  | "span"
  | "made"
  | "state"
  | "complete"
  | "incomplete"
  | "times"
  | "ruleVersions"
  | "limit"
  | "limits"
  | "gaps"
  | "when"
  | "worst"
  | "at"
  | "outcome"
  | "probe"
  | "place"
  | "accuracy"
  | "note"
  | "slab"
  | "slabCold"
  | "slabHot"
  | "air"
  | "humidity"
  | "resin"
  | "dewPoint"
  | "margin"
  | "instrument"
  | "calibrated"
  | "rule"
  | "source"
  | "facts"
  | "call"
  | "reasons"
  | "from"
  | "until"
  | "why"
  | "stood"
  | "kind"
  | "measured"
  | "what"
  | "details"
  | "day"
  | "head"
  | "counts"
  | "film"
  | "elapsed"
  | "recoatMinimum"
  | "dewSafe"
  | "foot"
  | "traffic"
  | "maximum"
  | "noMaximum"
  | "closed"
  | "notClosed"
  | "hottestHour"
  | "lowestMargin"
  | "belowLimit"
  | "inDew"
  | "longestGap"
  | "estimate"
  | "use"
  | "notBefore"
  | "keepWarm"
  | "keepShut"
  | "coats"
  | "entries"
  | "readings"
  | "open"
  | "hash"
  | "moved"
  | "retired"
  | "vented"
  | "unvented"
  | "heater"
  | "ventilation"
  | "zoneSystem"
  | "airSpan"
  | "rhMax"
  | "taken";
