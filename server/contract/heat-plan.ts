// The question "what would heat do to this zone, and can it save the window?" and its answer.
import Type from "typebox";
import { CallWordSchema } from "#contract/call.ts";
import { bodyFromFanTime, FanTimeSchema } from "#contract/outlook.ts";
import { isoFromMs, isoOrNull, IsoTime, msFromIso, NullableNumber, NullableTime } from "#contract/primitives.ts";
import type { HeatCaution, HeatChoice, HeatPlan, HeatQuestion } from "#core/heat/question.ts";

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
] as const satisfies readonly HeatCaution[];

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

/** The question as the core asks it; `fromMs` is NaN where `from` names a day that does not exist. */
export function heatQuestionFromBody({ heater, targetC, from, building }: HeatQuestionBody): HeatQuestion {
  return {
    heater,
    targetC,
    fromMs: from === undefined ? null : msFromIso(from),
    building:
      building === undefined
        ? null
        : { class: building.class, floorM2: building.floorM2 ?? null, heightM: building.heightM ?? null },
  };
}

const hundredths = (value: number) => Math.round(value * 100) / 100;
const tenths = (value: number) => Math.round(value * 10) / 10;
const thousandths = (value: number) => Math.round(value * 1000) / 1000;

function bodyFromChoice(choice: HeatChoice): HeatChoiceBody {
  const { film, pour, fuel, course } = choice;
  const [lowK, middleK, highK] = choice.lowestMarginK;
  return {
    plan: choice.plan,
    from: isoOrNull(choice.fromMs),
    to: isoOrNull(choice.toMs),
    targetC: choice.targetC,
    airReachesTargetAt: isoOrNull(choice.airReachesTargetMs),
    slabReachesTargetAt: isoOrNull(choice.slabReachesTargetMs),
    slabAfterC: choice.slabAfterC.map(({ hours, slabC }) => ({ hours, slabC: hundredths(slabC) })),
    highestSlabC: hundredths(choice.highestSlabC),
    lowestMarginK: [hundredths(lowK), hundredths(middleK), hundredths(highK)],
    lowestMarginAt: isoFromMs(choice.lowestMarginAtMs),
    film:
      film === null
        ? null
        : {
            opens: bodyFromFanTime(film.opens),
            closes: bodyFromFanTime(film.closes),
            dewSafe: bodyFromFanTime(film.dewSafe),
            walkOn: bodyFromFanTime(film.walkOn),
            chanceLost: thousandths(film.chanceLost),
          },
    pour:
      pour === null
        ? null
        : {
            earliest: isoFromMs(pour.earliestMs),
            likely: isoFromMs(pour.likelyMs),
            latestStartAt: isoOrNull(pour.latestStartAtMs),
            chance: thousandths(pour.chance),
          },
    callNow: choice.callNow,
    savesWindow: choice.savesWindow,
    heatKWh: tenths(choice.heatKWh),
    fuel: fuel === null ? null : { kg: tenths(fuel.kg), litres: fuel.litres === null ? null : tenths(fuel.litres) },
    waterKg: tenths(choice.waterKg),
    course: {
      from: isoFromMs(course.fromMs),
      stepS: course.stepMs / 1000,
      slabColdC: course.slabColdC.map(hundredths),
      airC: course.airC.map(hundredths),
      dewPointC: course.dewPointC.map(hundredths),
      marginK: course.marginK.map(hundredths),
    },
  };
}

export function bodyFromHeatPlan({ atMs, building, choices, saveWindow, cautions }: HeatPlan): HeatPlanBody {
  const { abrading } = saveWindow;
  return {
    at: isoFromMs(atMs),
    building: {
      basis: building.basis,
      lossWPerK: Math.round(building.lossWPerK),
      airChangesPerH: hundredths(building.airChangesPerH),
      floorM2: tenths(building.floorM2),
      heightM: tenths(building.heightM),
    },
    choices: choices.map(bodyFromChoice),
    saveWindow: {
      answer: saveWindow.answer,
      choice: saveWindow.choice,
      abrading:
        abrading === null
          ? null
          : {
              areaM2: tenths(abrading.areaM2),
              personHours: [tenths(abrading.personHours[0]), tenths(abrading.personHours[1])],
            },
    },
    cautions: [...cautions],
  };
}
