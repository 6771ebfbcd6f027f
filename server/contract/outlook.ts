// The outlook on the wire: fans of quantiles on equal time steps, and the calls to come.
import Type from "typebox";
import type { Fan, NightView } from "#core/outlook/outlook.ts";
import { CallWordSchema } from "#contract/call.ts";
import { isoFromMs, IsoTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const Numbers = Type.Array(Type.Number());

export const FanSchema = Type.Object({ q10: Numbers, q50: Numbers, q90: Numbers }, closed);
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
  },
  closed,
);
export type OutlookBody = Type.Static<typeof OutlookSchema>;

const rounded = (values: readonly number[]) => values.map((value) => Math.round(value * 100) / 100);
const fan = (of: Fan) => ({ q10: rounded(of.q10), q50: rounded(of.q50), q90: rounded(of.q90) });

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
      chance: Math.round(ahead.chance * 1000) / 1000,
    })),
  };
}
