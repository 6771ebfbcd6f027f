// Knocking: how a new node asks to be let in, how a person sees it, and what letting it in needs.
import Type from "typebox";
import { readerOf } from "#contract/faults.ts";
import { Id, IsoTime, Name } from "#contract/primitives.ts";
import { NodeSchema } from "#contract/zone.ts";

const closed = { additionalProperties: false } as const;

/** A quantity as a node names it: `slab`, `slab.2`, `air`. */
export const QuantityName = Type.String({ pattern: "^[a-z]{1,20}(\\.[0-9]{1,3})?$" });

/**
 * What a node says of itself in `{root}/{site}/node/{node}/knock`. `key`: SHA-256, in hexadecimal, of the secret that the
 * node has drawn for itself and will sign in with; so no secret ever travels to it.
 */
export const KnockSchema = Type.Object(
  {
    what: Name,
    quantities: Type.Array(QuantityName, { maxItems: 32 }),
    everyS: Type.Optional(Type.Number({ exclusiveMinimum: 0, maximum: 86_400 })),
    key: Type.Optional(Type.String({ pattern: "^[0-9a-f]{64}$" })),
  },
  closed,
);
export type KnockBody = Type.Static<typeof KnockSchema>;
export const readKnock = readerOf(KnockSchema);
export const LARGEST_KNOCK_BYTES = 4096;

/** The beginning of a key, for people to compare; null for a node that brings none. */
const Fingerprint = Type.Union([Type.String({ pattern: "^[0-9a-f]{16}$" }), Type.Null()]);

export function fingerprintOf(key: string | undefined): string | null {
  return key?.slice(0, 16) ?? null;
}

export const KnockStateSchema = Type.Object(
  {
    node: Id,
    what: Name,
    quantities: Type.Array(QuantityName),
    everyS: Type.Union([Type.Number(), Type.Null()]),
    fingerprint: Fingerprint,
    state: Type.Enum(["waiting", "refused"]),
    firstAt: IsoTime,
    lastAt: IsoTime,
    times: Type.Integer({ minimum: 0 }),
    others: Type.Integer({
      minimum: 0,
      description: "knocks under this name with another key: two devices, or a forger",
    }),
    held: Type.Integer({ minimum: 0, description: "messages with readings that wait until it is let in" }),
    known: Type.Boolean({
      description: "a node of this name is there already: this is another device, or it lost its key",
    }),
  },
  closed,
);
export type KnockStateBody = Type.Static<typeof KnockStateSchema>;

/** `fingerprint`: of the knock that the person looked at; another one is not let in. */
export const AdmitSchema = Type.Object(
  { ...Type.Omit(NodeSchema, ["id"]).properties, fingerprint: Fingerprint },
  closed,
);
export type AdmitBody = Type.Static<typeof AdmitSchema>;

/** `by`: the new device; the same name for one that keeps it. `fingerprint`: of its knock, when it knocked. */
export const ReplaceSchema = Type.Object(
  { by: Id, fingerprint: Type.Optional(Fingerprint), who: Type.Optional(Name) },
  closed,
);
export type ReplaceBody = Type.Static<typeof ReplaceSchema>;

/** `who`: the person, for the journal. */
export const MoveSchema = Type.Object(
  { ...Type.Pick(NodeSchema, ["zone", "probes"]).properties, who: Type.Optional(Name) },
  closed,
);
export const RetireSchema = Type.Object({ who: Type.Optional(Name) }, closed);
export type MoveBody = Type.Static<typeof MoveSchema>;

export const CredentialsWishSchema = Type.Object(
  { secretInLabel: Type.Optional(Type.Boolean({ default: false })) },
  closed,
);
/** Shown once: only a hash of the password is kept. */
export const CredentialsSchema = Type.Object(
  {
    username: Type.String(),
    password: Type.String(),
    broker: Type.String({ description: "address of the broker" }),
    label: Type.String({ description: "printable label, SVG" }),
  },
  closed,
);
export type CredentialsBody = Type.Static<typeof CredentialsSchema>;

export const JoinSecretSchema = Type.Object({ joinSecret: Type.String() }, closed);
