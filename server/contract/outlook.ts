// The outlook on the wire: fans of quantiles on equal time steps, and the calls to come.
import Type from "typebox";
import type { Fan, FanTime, NightView } from "#core/outlook/outlook.ts";
import { CallWordSchema } from "#contract/call.ts";
import { isoFromMs, isoOrNull, IsoTime, NullableNumber, NullableTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const Numbers = Type.Array(Type.Number());

export const FanSchema = Type.Object({ q10: Numbers, q50: Numbers, q90: Numbers }, closed);
/** 10, 50 and 90 % quantiles of a time; null where so many members do not reach it. */
export const FanTimeSchema = Type.Object(
  { earliest: NullableTime, likely: NullableTime, latest: NullableTime, chance: Type.Number() },
  closed,
);
export type FanTimeBody = Type.Static<typeof FanTimeSchema>;
export const FilmAheadSchema = Type.Object(
  {
    opens: FanTimeSchema,
    closes: FanTimeSchema,
    dewSafe: FanTimeSchema,
    walkOn: FanTimeSchema,
    driveOn: FanTimeSchema,
    chanceLost: Type.Number(),
  },
  closed,
);
export type FilmAheadBody = Type.Static<typeof FilmAheadSchema>;
export const OutlookSchema = Type.Object(
  {
    from: IsoTime,
    stepS: Type.Number({ exclusiveMinimum: 0 }),
    basis: Type.Array(Type.String()),
    marginK: FanSchema,
    slabColdC: FanSchema,
    airC: FanSchema,
    dewPointC: FanSchema,
    calls: Type.Array(Type.Object({ from: IsoTime, to: IsoTime, call: CallWordSchema, chance: Type.Number() }, closed)),
    film: Type.Union([FilmAheadSchema, Type.Null()]),
    failing: Type.Array(Type.Object({ rule: Type.String(), byHour: Numbers }, closed)),
    feedAgeS: NullableNumber,
  },
  closed,
);
export type OutlookBody = Type.Static<typeof OutlookSchema>;

const rounded = (values: readonly number[]) => values.map((value) => Math.round(value * 100) / 100);
const fan = (of: Fan) => ({ q10: rounded(of.q10), q50: rounded(of.q50), q90: rounded(of.q90) });

const chance = (value: number) => Math.round(value * 1000) / 1000;
export const bodyFromFanTime = (time: FanTime): FanTimeBody => ({
  earliest: isoOrNull(time.earliestMs),
  likely: isoOrNull(time.likelyMs),
  latest: isoOrNull(time.latestMs),
  chance: chance(time.chance),
});

export function bodyFromNightView(view: NightView): OutlookBody {
  return {
    from: isoFromMs(view.fromMs),
    stepS: view.stepMs / 1000,
    basis: [...view.basis],
    marginK: fan(view.marginK),
    slabColdC: fan(view.slabColdC),
    airC: fan(view.airC),
    dewPointC: fan(view.dewPointC),
    calls: view.calls.map((ahead) => ({
      from: isoFromMs(ahead.fromMs),
      to: isoFromMs(ahead.toMs),
      call: ahead.call,
      chance: chance(ahead.chance),
    })),
    film:
      view.film === null
        ? null
        : {
            opens: bodyFromFanTime(view.film.opens),
            closes: bodyFromFanTime(view.film.closes),
            dewSafe: bodyFromFanTime(view.film.dewSafe),
            walkOn: bodyFromFanTime(view.film.walkOn),
            driveOn: bodyFromFanTime(view.film.driveOn),
            chanceLost: chance(view.film.chanceLost),
          },
    failing: view.failing.map(({ rule, byHour }) => ({ rule, byHour: byHour.map(chance) })),
    feedAgeS: view.feedAgeS === null ? null : Math.round(view.feedAgeS),
  };
}
