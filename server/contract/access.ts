// Who may: roles, the words that every route states, and the bodies of sign-in, people, links, sessions and the audit.
import Type from "typebox";
import { Id, IsoTime, Name, NullableTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

export const ROLES = ["owner", "lead", "helper", "inspector", "client"] as const;
export type Role = (typeof ROLES)[number];

/**
 * The word of a route, and the roles that it lets in. `anyone` also lets in whoever has not signed in; `client` is
 * everybody who has. `write`: journal, photos. `plan`: sites, zones, nodes, sheets, feed, heat. `own`: people, links,
 * sessions, audit. With accounts off everybody is an owner.
 */
export const MAY = {
  anyone: ["owner", "lead", "helper", "inspector", "client"],
  client: ["owner", "lead", "helper", "inspector", "client"],
  read: ["owner", "lead", "helper", "inspector"],
  write: ["owner", "lead", "helper"],
  plan: ["owner", "lead"],
  own: ["owner"],
} as const satisfies Record<string, readonly Role[]>;
export type May = keyof typeof MAY;

/**
 * A person can be bound to sites, a link always is to one site and perhaps one zone. Such a caller reaches a route only
 * if its address names a site and zone within reach, or if the route says here that it keeps the border itself
 * (`narrowed`) or holds nothing of any site (`none`).
 */
export type Border = "narrowed" | "none";

/** Every change carries this header (any value) when accounts are on: no form and no page elsewhere can send it. */
export const CHANGE_HEADER = "x-nightslab";

/** Who asks. `open`: accounts are off. `sites` null = every site; `zone` null = every zone of them. */
export const WhoSchema = Type.Object(
  {
    kind: Type.Enum(["person", "link", "open"]),
    name: nullable(Name),
    role: Type.Enum([...ROLES]),
    sites: nullable(Type.Array(Id)),
    zone: nullable(Id),
  },
  closed,
);
export type Who = Readonly<Type.Static<typeof WhoSchema>>;

/** `firstOwner`: there is no owner yet, and the code in the terminal makes one. `sites`: those within reach. */
export const AccessSchema = Type.Object(
  {
    accounts: Type.Enum(["on", "off"]),
    firstOwner: Type.Boolean(),
    who: nullable(WhoSchema),
    sites: Type.Array(Type.Object({ id: Id, name: Name }, closed)),
  },
  closed,
);
export type AccessBody = Type.Static<typeof AccessSchema>;

export const PASSWORD_SHORTEST = 12;
export const PASSWORD_LONGEST = 128;
/** What was typed on the way in; whether it is good enough is told with reasons, not by the schema. */
const Typed = Type.String({ minLength: 1, maxLength: 512 });
const PersonName = Type.String({ minLength: 1, maxLength: 80, pattern: "^\\S(.*\\S)?$" });
const Token = Type.String({ minLength: 8, maxLength: 200 });
const Sites = nullable(Type.Array(Id, { maxItems: 200 }));

export const SignInSchema = Type.Object({ name: PersonName, password: Typed }, closed);
export const FirstOwnerSchema = Type.Object({ code: Token, name: PersonName, password: Typed }, closed);
export const TokenSchema = Type.Object({ token: Token }, closed);
export const AcceptSchema = Type.Object({ token: Token, name: PersonName, password: Typed }, closed);
export const ResetSchema = Type.Object({ token: Token, password: Typed }, closed);
export const PasswordChangeSchema = Type.Object({ current: Typed, password: Typed }, closed);
export type SignInBody = Type.Static<typeof SignInSchema>;
export type FirstOwnerBody = Type.Static<typeof FirstOwnerSchema>;
export type AcceptBody = Type.Static<typeof AcceptSchema>;
export type ResetBody = Type.Static<typeof ResetSchema>;
export type PasswordChangeBody = Type.Static<typeof PasswordChangeSchema>;

export const PersonSchema = Type.Object(
  { id: Id, name: Name, role: Type.Enum([...ROLES]), sites: Sites, madeAt: IsoTime, seenAt: NullableTime },
  closed,
);
export const PersonChangeSchema = Type.Object(
  { role: Type.Optional(Type.Enum([...ROLES])), sites: Type.Optional(Sites) },
  closed,
);
export type PersonBody = Type.Static<typeof PersonSchema>;
export type PersonChangeBody = Type.Static<typeof PersonChangeSchema>;

const DAYS = Type.Integer({ minimum: 1, maximum: 400 });
/** An invitation works once and ends after `days` (7 unless given). */
export const InvitationWishSchema = Type.Object(
  { role: Type.Enum([...ROLES]), sites: Sites, note: Type.Optional(Name), days: Type.Optional(DAYS) },
  closed,
);
export const InvitationSchema = Type.Object(
  {
    id: Id,
    role: Type.Enum([...ROLES]),
    sites: Sites,
    note: nullable(Name),
    by: nullable(Name),
    madeAt: IsoTime,
    expiresAt: IsoTime,
  },
  closed,
);
export type InvitationWishBody = Type.Static<typeof InvitationWishSchema>;
export type InvitationBody = Type.Static<typeof InvitationSchema>;

/** A read-only link for an inspector or a client, to one site and perhaps one zone; `days` null = until withdrawn. */
export const LinkWishSchema = Type.Object(
  {
    role: Type.Enum(["inspector", "client"]),
    site: Id,
    zone: nullable(Id),
    label: Name,
    days: Type.Optional(nullable(DAYS)),
  },
  closed,
);
export const LinkSchema = Type.Object(
  {
    id: Id,
    role: Type.Enum(["inspector", "client"]),
    site: Id,
    zone: nullable(Id),
    label: Name,
    by: nullable(Name),
    madeAt: IsoTime,
    expiresAt: NullableTime,
    seenAt: NullableTime,
  },
  closed,
);
export type LinkWishBody = Type.Static<typeof LinkWishSchema>;
export type LinkBody = Type.Static<typeof LinkSchema>;

/** Told once, when it is made. `path` opens it in the dashboard; what follows its # never leaves the browser by itself. */
const Once = { token: Type.String(), path: Type.String() };
export const InvitationMadeSchema = Type.Object({ ...InvitationSchema.properties, ...Once }, closed);
export const LinkMadeSchema = Type.Object({ ...LinkSchema.properties, ...Once }, closed);
export const ResetMadeSchema = Type.Object({ ...Once, expiresAt: IsoTime }, closed);
export type InvitationMadeBody = Type.Static<typeof InvitationMadeSchema>;
export type LinkMadeBody = Type.Static<typeof LinkMadeSchema>;
export type ResetMadeBody = Type.Static<typeof ResetMadeSchema>;

/** What an invitation offers, before it is taken. */
/** `siteNames`: of the sites that still stand; null for all. */
export const OfferSchema = Type.Object(
  {
    role: Type.Enum([...ROLES]),
    sites: Sites,
    siteNames: Type.Optional(nullable(Type.Array(Type.String()))),
    expiresAt: IsoTime,
  },
  closed,
);
export type OfferBody = Type.Static<typeof OfferSchema>;

/** `device`: what the browser says of itself. `own`: the session that asks. */
export const SessionSchema = Type.Object(
  {
    id: Id,
    kind: Type.Enum(["person", "link"]),
    name: Name,
    role: Type.Enum([...ROLES]),
    device: Type.String(),
    address: Type.String(),
    madeAt: IsoTime,
    seenAt: IsoTime,
    own: Type.Boolean(),
  },
  closed,
);
export type SessionBody = Type.Static<typeof SessionSchema>;

/** `did`: method and route, or an event of signing in. `about`: what of, without secrets. */
export const AuditLineSchema = Type.Object(
  {
    seq: Type.Integer(),
    at: IsoTime,
    who: nullable(Name),
    role: nullable(Type.Enum([...ROLES])),
    did: Type.String(),
    site: nullable(Id),
    about: Type.String(),
    address: Type.String(),
  },
  closed,
);
export type AuditLineBody = Type.Static<typeof AuditLineSchema>;

/** What a client may know of a floor. `leave`: what to leave alone or keep as it is. Dates are "not before", never a promise. */
export const LEAVE = ["keep-off", "no-vehicles", "no-water", "keep-warm", "keep-shut", "leave-sensors"] as const;
export const ClientPageSchema = Type.Object(
  {
    site: Type.Object({ id: Id, name: Name, timezone: Name }, closed),
    at: IsoTime,
    zones: Type.Array(
      Type.Object(
        {
          zone: Id,
          name: Name,
          /** `bare`: no coat of ours yet. `more-coats`: no dates before the last one lies. `last-coat`: dates stand. */
          floor: Type.Enum(["bare", "more-coats", "last-coat"]),
          walkOnAt: NullableTime,
          driveOnAt: NullableTime,
          washAt: NullableTime,
          /** True where the sheet does not print the figure for these temperatures. */
          estimated: Type.Boolean(),
          leave: Type.Array(Type.Enum([...LEAVE])),
        },
        closed,
      ),
    ),
  },
  closed,
);
export type ClientPageBody = Type.Static<typeof ClientPageSchema>;
