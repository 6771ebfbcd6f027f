// The call on the wire (MQTT, HTTP, stream, replay).
import Type from "typebox";
import { type Call, RULE_IDS } from "#core/judge/call.ts";
import { Id, isoFromMs, isoOrNull, IsoTime, NullableNumber, NullableTime } from "#contract/primitives.ts";
import { StepSchema } from "#contract/sheet.ts";

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

export const CallWordSchema = Type.Enum(["pour", "wait", "abrade", "finished"]);
export const RuleIdSchema = Type.Enum([...RULE_IDS]);
export const ConditionsSchema = Type.Object(
  {
    slabColdC: NullableNumber,
    slabHotC: NullableNumber,
    airC: NullableNumber,
    rhPct: NullableNumber,
    dewPointC: NullableNumber,
    marginK: NullableNumber,
    marginUncertaintyK: NullableNumber,
    slabSlopeKPerH: NullableNumber,
    ageS: NullableNumber,
  },
  closed,
);

export const RuleResultSchema = Type.Object(
  {
    rule: RuleIdSchema,
    outcome: Type.Enum(["pass", "caution", "stop", "unknown"]),
    measured: NullableNumber,
    limit: NullableNumber,
    unit: nullable(Type.String()),
    probe: nullable(Type.String()),
    since: NullableTime,
    detail: nullable(Type.String()),
  },
  closed,
);

export const CallSchema = Type.Object(
  {
    site: Id,
    zone: Id,
    at: IsoTime,
    call: CallWordSchema,
    limiting: nullable(RuleIdSchema),
    rules: Type.Array(RuleResultSchema),
    steps: Type.Array(StepSchema),
    validUntil: NullableTime,
    pour: nullable(
      Type.Object(
        {
          latestStartAt: NullableTime,
          lastMixAt: NullableTime,
          finishBy: IsoTime,
          batchCapL: NullableNumber,
          fitsM2: Type.Number(),
        },
        closed,
      ),
    ),
    next: nullable(
      Type.Object({ call: CallWordSchema, earliest: IsoTime, likely: IsoTime, chance: Type.Number() }, closed),
    ),
    night: nullable(
      Type.Object(
        {
          hours: Type.Number(),
          chanceHolds: Type.Number(),
          lowestMarginK: Type.Tuple([Type.Number(), Type.Number(), Type.Number()]),
          lowestAt: IsoTime,
        },
        closed,
      ),
    ),
    window: Type.Object(
      {
        state: Type.Enum(["none", "not-yet", "open", "closed", "lost"]),
        opensAt: NullableTime,
        closesAt: NullableTime,
        earned: NullableNumber,
      },
      closed,
    ),
    film: nullable(
      Type.Object(
        {
          coat: Type.Integer(),
          sheet: Id,
          pouredFrom: IsoTime,
          pouredTo: IsoTime,
          dewSafeEarned: NullableNumber,
          dewSensitive: Type.Boolean(),
          dewSafeAt: NullableTime,
          walkOnAt: NullableTime,
          driveOnAt: NullableTime,
          estimated: Type.Boolean(),
        },
        closed,
      ),
    ),
    nextCoat: nullable(Type.Integer()),
    pouring: Type.Boolean(),
    conditions: ConditionsSchema,
    ruleVersion: Type.String(),
  },
  closed,
);
export type CallBody = Type.Static<typeof CallSchema>;
export type ConditionsBody = Type.Static<typeof ConditionsSchema>;
export type RuleResultBody = Type.Static<typeof RuleResultSchema>;

/** Numbers on the wire carry at most four decimals: enough for a sensor, short enough to read. */
function round(value: number): number;
function round(value: number | null): number | null;
function round(value: number | null): number | null {
  return value === null ? null : Math.round(value * 1e4) / 1e4;
}

export function bodyFromConditions(conditions: Call["conditions"]): CallBody["conditions"] {
  return {
    slabColdC: round(conditions.slabColdC),
    slabHotC: round(conditions.slabHotC),
    airC: round(conditions.airC),
    rhPct: round(conditions.rhPct),
    dewPointC: round(conditions.dewPointC),
    marginK: round(conditions.marginK),
    marginUncertaintyK: round(conditions.marginUncertaintyK),
    slabSlopeKPerH: round(conditions.slabSlopeKPerH),
    ageS: round(conditions.ageS),
  };
}

export function bodyFromCall(call: Call): CallBody {
  const { pour, next, night, film, window, conditions } = call;
  return {
    site: call.site,
    zone: call.zone,
    at: isoFromMs(call.atMs),
    call: call.call,
    limiting: call.limiting,
    // Field by field: what is spread from a rest gets a shape of its own in the engine, four times as large, for each rule.
    rules: call.rules.map(({ rule, outcome, unit, probe, detail, measured, limit, sinceMs }) => ({
      rule,
      outcome,
      unit,
      probe,
      detail,
      measured: round(measured),
      limit: round(limit),
      since: isoOrNull(sinceMs),
    })),
    steps: [...call.steps],
    validUntil: isoOrNull(call.validUntilMs),
    pour: pour && {
      latestStartAt: isoOrNull(pour.latestStartAtMs),
      lastMixAt: isoOrNull(pour.lastMixAtMs),
      finishBy: isoFromMs(pour.finishByMs),
      batchCapL: round(pour.batchCapL),
      fitsM2: round(pour.fitsM2),
    },
    next: next && {
      call: next.call,
      earliest: isoFromMs(next.earliestMs),
      likely: isoFromMs(next.likelyMs),
      chance: round(next.chance),
    },
    night: night && {
      hours: round(night.hours),
      chanceHolds: round(night.chanceHolds),
      lowestMarginK: [round(night.lowestMarginK[0]), round(night.lowestMarginK[1]), round(night.lowestMarginK[2])],
      lowestAt: isoFromMs(night.lowestAtMs),
    },
    window: {
      state: window.state,
      opensAt: isoOrNull(window.opensAtMs),
      closesAt: isoOrNull(window.closesAtMs),
      earned: round(window.earned),
    },
    film: film && {
      coat: film.coat,
      sheet: film.sheet,
      pouredFrom: isoFromMs(film.pouredFromMs),
      pouredTo: isoFromMs(film.pouredToMs),
      dewSafeEarned: round(film.dewSafeEarned),
      dewSensitive: film.dewSensitive,
      dewSafeAt: isoOrNull(film.dewSafeAtMs),
      walkOnAt: isoOrNull(film.walkOnAtMs),
      driveOnAt: isoOrNull(film.driveOnAtMs),
      estimated: film.estimated,
    },
    nextCoat: call.nextCoat,
    pouring: call.pouring,
    conditions: bodyFromConditions(conditions),
    ruleVersion: call.ruleVersion,
  };
}
