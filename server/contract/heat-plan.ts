// The question "what would heat do to this zone, and can it save the window?" and its answer.
import Type from "typebox";
import { CallWordSchema } from "#contract/call.ts";
import { FanTimeSchema } from "#contract/outlook.ts";
import { IsoTime, NullableNumber, NullableTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

export const HEATER_FUELS = ["propane", "natural-gas", "kerosene", "diesel", "electric", "other"] as const;
export const BUILDING_CLASSES = ["tight", "loose", "open"] as const;

export const HeaterSchema = Type.Object(
  {
    /** Rated heat of all heaters together. */
    kW: Type.Number({ exclusiveMinimum: 0, maximum: 10_000 }),
    fuel: Type.Enum([...HEATER_FUELS]),
    /** false: the fumes, and their water, stay in the room. */
    vented: Type.Boolean(),
  },
  closed,
);

export const HeatQuestionSchema = Type.Object(
  {
    heater: HeaterSchema,
    /** Air temperature that the thermostat is set to. */
    targetC: Type.Number({ minimum: -10, maximum: 45 }),
    /** For "heat from HH:MM"; absent = six hours from now. */
    from: Type.Optional(IsoTime),
    /** What is known of the building; absent = measured from the readings where they tell, else rough. */
    building: Type.Optional(
      Type.Object(
        {
          class: Type.Enum([...BUILDING_CLASSES]),
          /** Floor under the same roof that the heater must warm; absent = the zones of the site together. */
          floorM2: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 1e6 })),
          heightM: Type.Optional(Type.Number({ minimum: 2, maximum: 40 })),
        },
        closed,
      ),
    ),
  },
  closed,
);
export type HeatQuestionBody = Type.Static<typeof HeatQuestionSchema>;

const Course = Type.Array(Type.Number());

/** One way to heat, and what follows from it. Quantities of fuel and water count from now to the end of the outlook. */
export const HeatChoiceSchema = Type.Object(
  {
    plan: Type.Enum(["no-heat", "heat-now", "heat-from", "heat-then-coast"]),
    /** When the heater runs; null without heat. `to` null = to the end of the outlook. */
    from: NullableTime,
    to: NullableTime,
    targetC: NullableNumber,
    airReachesTargetAt: NullableTime,
    slabReachesTargetAt: NullableTime,
    /** Slab surface, coldest spot, middle of the outlook: after 4, 8, 12 and 24 h, and at its highest. */
    slabAfterC: Type.Array(Type.Object({ hours: Type.Number(), slabC: Type.Number() }, closed)),
    highestSlabC: Type.Number(),
    /** 10, 50 and 90 % quantiles of the lowest margin from now to the end of the outlook, and when. */
    lowestMarginK: Type.Tuple([Type.Number(), Type.Number(), Type.Number()]),
    lowestMarginAt: IsoTime,
    /** The film on the floor; null on a bare slab. */
    film: nullable(
      Type.Object(
        {
          opens: nullable(FanTimeSchema),
          closes: nullable(FanTimeSchema),
          dewSafe: nullable(FanTimeSchema),
          walkOn: nullable(FanTimeSchema),
          /** Chance that the window closes before it has opened and the zone has been poured. */
          chanceLost: Type.Number(),
        },
        closed,
      ),
    ),
    /** First pour that the outlook would allow, its latest start, and the chance that there is one within the outlook. */
    pour: nullable(
      Type.Object({ earliest: IsoTime, likely: IsoTime, latestStartAt: NullableTime, chance: Type.Number() }, closed),
    ),
    callNow: CallWordSchema,
    savesWindow: Type.Boolean(),
    heatKWh: Type.Number(),
    /** Fuel burnt; null where the fuel is not known or is a socket (then heatKWh is what the meter counts). */
    fuel: nullable(Type.Object({ kg: Type.Number(), litres: NullableNumber }, closed)),
    /** Water that unvented fumes put into the air. */
    waterKg: Type.Number(),
    course: Type.Object(
      { from: IsoTime, stepS: Type.Number(), slabColdC: Course, airC: Course, dewPointC: Course, marginK: Course },
      closed,
    ),
  },
  closed,
);
export type HeatChoiceBody = Type.Static<typeof HeatChoiceSchema>;

export const HEAT_CAUTIONS = [
  "unvented-fumes",
  "carbon-monoxide",
  "fresh-air",
  "fumes-film",
  "clearances",
  "flame-and-solvent",
  "water-into-air",
  "refuel-cold",
  "electric-circuits",
  "rising-slab",
] as const;

export const HeatPlanSchema = Type.Object(
  {
    at: IsoTime,
    /** How the building was judged: `measured` from the readings, `stated` by the person, `rough` by a guess of its class. */
    building: Type.Object(
      {
        basis: Type.Enum(["measured", "stated", "rough"]),
        lossWPerK: Type.Number(),
        airChangesPerH: Type.Number(),
        floorM2: Type.Number(),
        heightM: Type.Number(),
      },
      closed,
    ),
    choices: Type.Array(HeatChoiceSchema),
    /** Can the window of the film be saved? `plan` indexes the cheapest choice that does. */
    saveWindow: Type.Object(
      {
        answer: Type.Enum(["no-film", "not-closing", "holds-without-heat", "yes", "no"]),
        choice: Type.Union([Type.Integer(), Type.Null()]),
        /** Work that is due if it is not saved: walk-behind over the floor and hand work along the edges; low and high. */
        abrading: nullable(
          Type.Object({ areaM2: Type.Number(), personHours: Type.Tuple([Type.Number(), Type.Number()]) }, closed),
        ),
      },
      closed,
    ),
    cautions: Type.Array(Type.Enum([...HEAT_CAUTIONS])),
  },
  closed,
);
export type HeatPlanBody = Type.Static<typeof HeatPlanSchema>;
