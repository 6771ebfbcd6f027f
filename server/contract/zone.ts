// Sites, zones and nodes on the wire.
import Type from "typebox";
import type { Node, Zone } from "#core/zone/site.ts";
import { OutlineSchema } from "#contract/plan.ts";
import { Id, Name } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;

export const ZoneSchema = Type.Object(
  {
    id: Id,
    name: Name,
    areaM2: Type.Number({ exclusiveMinimum: 0, maximum: 1e6 }),
    pourM2PerH: Type.Number({ exclusiveMinimum: 0, maximum: 1e5 }),
    people: Type.Optional(Type.Integer({ minimum: 1, maximum: 100 })),
    system: Type.Array(Id, { minItems: 1, maxItems: 20 }),
    base: Type.Union([Type.Literal("porous"), Type.Literal("sealed")]),
    outline: Type.Optional(OutlineSchema),
    areaTyped: Type.Optional(
      Type.Boolean({ description: "areaM2 was measured and typed; without it that of the outline counts" }),
    ),
  },
  closed,
);
export type ZoneBody = Type.Static<typeof ZoneSchema>;

export const AccuracySchema = Type.Object(
  {
    slabK: Type.Number({ minimum: 0, maximum: 20 }),
    airK: Type.Number({ minimum: 0, maximum: 20 }),
    rhPct: Type.Number({ minimum: 0, maximum: 50 }),
  },
  closed,
);

export const NodeSchema = Type.Object(
  {
    id: Id,
    zone: Type.Union([Id, Type.Null()]),
    everyS: Type.Number({ exclusiveMinimum: 0, maximum: 86_400 }),
    accuracy: AccuracySchema,
    probes: Type.Optional(
      Type.Record(
        Type.String(),
        Type.Object(
          { place: Type.Optional(Name), xM: Type.Optional(Type.Number()), yM: Type.Optional(Type.Number()) },
          closed,
        ),
      ),
    ),
  },
  closed,
);
export type NodeBody = Type.Static<typeof NodeSchema>;

export const SiteSchema = Type.Object(
  {
    id: Id,
    name: Type.Optional(Name),
    timezone: Name,
    altitudeM: Type.Number({ minimum: -500, maximum: 6000 }),
    driveMin: Type.Optional(
      Type.Number({
        minimum: 0,
        maximum: 1440,
        description: "how long the crew drives to the site, min; 60 if not said",
      }),
    ),
  },
  closed,
);
export type SiteBody = Type.Static<typeof SiteSchema>;

export function zoneFromBody(body: ZoneBody): Zone {
  return body;
}

export function nodeFromBody(body: NodeBody): Node {
  const probes: Record<string, { place?: string; xM?: number; yM?: number }> = {};
  for (const [quantity, probe] of Object.entries(body.probes ?? {})) {
    probes[quantity] = {
      ...(probe.place === undefined ? {} : { place: probe.place }),
      ...(probe.xM === undefined ? {} : { xM: probe.xM }),
      ...(probe.yM === undefined ? {} : { yM: probe.yM }),
    };
  }
  const { id, zone, everyS, accuracy } = body;
  return body.probes === undefined ? { id, zone, everyS, accuracy } : { id, zone, everyS, accuracy, probes };
}

/** True if the runtime knows the IANA time zone. */
export function isTimezone(name: string): boolean {
  try {
    new Intl.DateTimeFormat("en", { timeZone: name });
    return true;
  } catch {
    return false;
  }
}
