// What the coats of a site take: litres, kits, batches with their parts, people and hours; and the order list.
import Type from "typebox";
import { HAZARDS } from "#contract/material.ts";
import { Id, IsoTime, isoFromMs, isoOrNull, Name, NullableNumber, NullableTime } from "#contract/primitives.ts";
import { MATERIAL_REASONS } from "#core/takeoff/material-check.ts";
import { partsOf } from "#core/takeoff/parts.ts";
import { type CoatTakeoff, mixTimesOf, type OrderLine, orderOf } from "#core/takeoff/takeoff.ts";
import type { CoatNow, ZoneTakeoff } from "#core/takeoff/zone.ts";

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

export const BatchRowSchema = Type.Object(
  {
    volumeL: Type.Number(),
    kits: NullableNumber,
    /** null where the sheet prints no mix, or parts by mass without a density. */
    parts: nullable(Type.Array(Type.Object({ name: Name, volumeL: NullableNumber, massKg: NullableNumber }, closed))),
  },
  closed,
);

export const COAT_STATES = ["down", "pouring", "next", "to-come"] as const;
export const MISSING = ["material", "use", "kit", "pot-life", "resin-temp", "batch"] as const;
export const RESIN_BASES = ["measured", "slab", "air", "kept"] as const;

export const CoatTakeoffSchema = Type.Object(
  {
    coat: Type.Integer(),
    sheet: Id,
    name: Name,
    state: Type.Enum([...COAT_STATES]),
    /** On this base, waste not in it. */
    useLPerM2: NullableNumber,
    /** Waste in it. */
    needL: NullableNumber,
    kitL: NullableNumber,
    kits: NullableNumber,
    batches: nullable(
      Type.Object(
        {
          capL: Type.Number(),
          lifeMin: Type.Number(),
          /** One kit is more than may stay in a pail: out on the floor at once. */
          pourOutAtOnce: Type.Boolean(),
          /** More than the crew lays within its life on the floor. */
          outrunsCrew: Type.Boolean(),
          rows: Type.Array(BatchRowSchema),
        },
        closed,
      ),
    ),
    mixMin: Type.Number(),
    restMin: Type.Number(),
    placeM2PerH: Type.Number(),
    placeH: Type.Number(),
    people: NullableNumber,
    mixers: NullableNumber,
    personH: NullableNumber,
    /** Person-hours, should the coat below have to be abraded; null on a bare slab. */
    abrade: nullable(Type.Object({ fewest: Type.Number(), most: Type.Number() }, closed)),
    hazards: Type.Array(Type.Enum([...HAZARDS])),
    doubts: Type.Array(Type.Object({ field: Type.String(), reason: Type.Enum([...MATERIAL_REASONS]) }, closed)),
    missing: Type.Array(Type.Enum([...MISSING])),
    mixed: Type.Array(Type.Object({ batch: Type.Integer(), at: IsoTime, volumeL: NullableNumber }, closed)),
  },
  closed,
);
export type CoatTakeoffBody = Type.Static<typeof CoatTakeoffSchema>;

export const ZoneTakeoffSchema = Type.Object(
  {
    zone: Id,
    name: Name,
    areaM2: Type.Number(),
    pourM2PerH: Type.Number(),
    people: NullableNumber,
    /** Of the resin: measured in the last two hours, or the strictest guess. */
    resin: Type.Object({ resinC: Type.Number(), basis: Type.Enum([...RESIN_BASES]), at: NullableTime }, closed),
    coats: Type.Array(CoatTakeoffSchema),
    /** Coats whose sheet is not there. */
    unknownCoats: Type.Array(Type.Integer()),
  },
  closed,
);
export type ZoneTakeoffBody = Type.Static<typeof ZoneTakeoffSchema>;

export const TakeoffSchema = Type.Object(
  {
    at: IsoTime,
    zones: Type.Array(ZoneTakeoffSchema),
    /** Zones that could not be reckoned, and why; they are in no sum. */
    failed: Type.Array(Type.Object({ zone: Id, name: Name, reason: Type.String() }, closed)),
    /** Coats to come, by sheet. */
    order: Type.Array(
      Type.Object(
        {
          sheet: Id,
          name: Name,
          coats: Type.Integer(),
          areaM2: Type.Number(),
          needL: NullableNumber,
          kitL: NullableNumber,
          kits: NullableNumber,
        },
        closed,
      ),
    ),
  },
  closed,
);
export type FailedTakeoff = Type.Static<typeof TakeoffSchema>["failed"][number];
export type TakeoffBody = Type.Static<typeof TakeoffSchema>;

function batchesBody({ batches, sheet }: CoatTakeoff): CoatTakeoffBody["batches"] {
  if (batches === null) return null;
  const { volumesL, kitsEach, ...rest } = batches;
  const rows = volumesL.map((volumeL, index) => {
    const kits = kitsEach?.[index] ?? null;
    const parts = partsOf(sheet.material ?? {}, volumeL, kits);
    return { volumeL, kits, parts: parts === null ? null : parts.map((part) => ({ ...part })) };
  });
  return { ...rest, rows };
}

function bodyFromCoat({ takeoff, state, mixed }: CoatNow): CoatTakeoffBody {
  const { sheet, doubts, missing, abrade } = takeoff;
  const material = sheet.material ?? {};
  return {
    coat: takeoff.coat,
    sheet: sheet.id,
    name: sheet.name,
    state,
    useLPerM2: takeoff.useLPerM2,
    needL: takeoff.needL,
    kitL: material.kitL ?? null,
    kits: takeoff.kits,
    batches: batchesBody(takeoff),
    ...mixTimesOf(material),
    placeM2PerH: takeoff.placeM2PerH,
    placeH: takeoff.placeH,
    people: takeoff.people,
    mixers: takeoff.mixers,
    personH: takeoff.personH,
    abrade: abrade === null ? null : { ...abrade },
    hazards: [...(material.hazards ?? [])],
    doubts: doubts.map(({ field, reason }) => ({ field, reason })),
    missing: [...missing],
    mixed: mixed.map(({ batch, atMs, volumeL = null }) => ({ batch, at: isoFromMs(atMs), volumeL })),
  };
}

function bodyFromZone({ zone, resin, coats, unknownCoats }: ZoneTakeoff): ZoneTakeoffBody {
  return {
    zone: zone.id,
    name: zone.name,
    areaM2: zone.areaM2,
    pourM2PerH: zone.pourM2PerH,
    people: zone.people ?? null,
    resin: { resinC: resin.resinC, basis: resin.basis, at: isoOrNull(resin.atMs) },
    coats: coats.map(bodyFromCoat),
    unknownCoats: [...unknownCoats],
  };
}

function bodyFromLine({ sheet, areaM2, needL, kits, coats }: OrderLine): TakeoffBody["order"][number] {
  return { sheet: sheet.id, name: sheet.name, coats, areaM2, needL, kitL: sheet.material?.kitL ?? null, kits };
}

export function bodyFromTakeoff(
  zones: readonly ZoneTakeoff[],
  atMs: number,
  failed: readonly FailedTakeoff[] = [],
): TakeoffBody {
  const toCome = zones.flatMap(({ zone, coats }) =>
    coats.filter(({ state }) => state !== "down").map(({ takeoff }) => ({ areaM2: zone.areaM2, takeoff })),
  );
  return {
    at: isoFromMs(atMs),
    zones: zones.map(bodyFromZone),
    failed: [...failed],
    order: orderOf(toCome).map(bodyFromLine),
  };
}
