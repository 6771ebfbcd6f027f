// Every rule, in the order of judgement, stage by stage.
import type { RuleId } from "#core/judge/call.ts";
import type { Rule } from "#core/judge/rule.ts";
import { abrasionStale } from "#core/judge/rules/abrasion-stale.ts";
import { airCold } from "#core/judge/rules/air-cold.ts";
import { airDamp } from "#core/judge/rules/air-damp.ts";
import { airDry } from "#core/judge/rules/air-dry.ts";
import { airHot } from "#core/judge/rules/air-hot.ts";
import { blush } from "#core/judge/rules/blush.ts";
import { clockDoubt } from "#core/judge/rules/clock-doubt.ts";
import { condensing } from "#core/judge/rules/condensing.ts";
import { cureShort } from "#core/judge/rules/cure-short.ts";
import { dataConflict } from "#core/judge/rules/data-conflict.ts";
import { dataFault } from "#core/judge/rules/data-fault.ts";
import { dataMissing } from "#core/judge/rules/data-missing.ts";
import { dataStale } from "#core/judge/rules/data-stale.ts";
import { dewMargin } from "#core/judge/rules/dew-margin.ts";
import { dust } from "#core/judge/rules/dust.ts";
import { fillerSoft } from "#core/judge/rules/filler-soft.ts";
import { filmSoft } from "#core/judge/rules/film-soft.ts";
import { finishLate } from "#core/judge/rules/finish-late.ts";
import { frost } from "#core/judge/rules/frost.ts";
import { handCheck } from "#core/judge/rules/hand-check.ts";
import { hold } from "#core/judge/rules/hold.ts";
import { inspectDue } from "#core/judge/rules/inspect-due.ts";
import { nightCold } from "#core/judge/rules/night-cold.ts";
import { nightDew } from "#core/judge/rules/night-dew.ts";
import { nightUnknown } from "#core/judge/rules/night-unknown.ts";
import { notSustained } from "#core/judge/rules/not-sustained.ts";
import { recordMissing } from "#core/judge/rules/record-missing.ts";
import { resinTemp } from "#core/judge/rules/resin-temp.ts";
import { sheetInvalid } from "#core/judge/rules/sheet-invalid.ts";
import { slabCold } from "#core/judge/rules/slab-cold.ts";
import { slabHot } from "#core/judge/rules/slab-hot.ts";
import { slabMoisture } from "#core/judge/rules/slab-moisture.ts";
import { slabRising } from "#core/judge/rules/slab-rising.ts";
import { surfaceDamp } from "#core/judge/rules/surface-damp.ts";
import { unitDoubt } from "#core/judge/rules/unit-doubt.ts";
import { vapourLow } from "#core/judge/rules/vapour-low.ts";
import { windowClosed } from "#core/judge/rules/window-closed.ts";

export type Stage = "data" | "record" | "film" | "surface" | "conditions" | "plan" | "night";

/** The first stage that stops decides the call; within a stage the order decides which rule limits. */
export const STAGES: readonly { readonly stage: Stage; readonly rules: readonly Rule[] }[] = [
  { stage: "data", rules: [dataMissing, dataStale, dataFault, dataConflict, unitDoubt, clockDoubt] },
  { stage: "record", rules: [sheetInvalid, recordMissing, hold, fillerSoft] },
  { stage: "film", rules: [filmSoft, cureShort] },
  { stage: "surface", rules: [blush, inspectDue, windowClosed, abrasionStale, dust, frost, condensing, surfaceDamp] },
  {
    stage: "conditions",
    rules: [
      slabCold,
      slabHot,
      airCold,
      airHot,
      airDamp,
      airDry,
      vapourLow,
      dewMargin,
      slabRising,
      slabMoisture,
      resinTemp,
      handCheck,
      notSustained,
    ],
  },
  { stage: "plan", rules: [finishLate] },
  { stage: "night", rules: [nightUnknown, nightDew, nightCold] },
];

export const ALL_RULES: readonly Rule[] = STAGES.flatMap(({ rules }) => rules);

const STAGE_OF = new Map<RuleId, Stage>(
  STAGES.flatMap(({ stage, rules }) => rules.map((rule) => [rule.id, stage] as const)),
);

export function stageOf(rule: RuleId): Stage {
  return STAGE_OF.get(rule) ?? "data";
}
