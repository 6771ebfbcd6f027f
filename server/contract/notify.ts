// Who is told, when, and by which way: contacts, the on-call order, deliveries, and what each way carries.
import Type from "typebox";
import { ALARM_LEVELS, AlarmSchema } from "#contract/alarm.ts";
import { Id, IsoTime, Name, NullableTime } from "#contract/primitives.ts";

const closed = { additionalProperties: false } as const;
const nullable = <T extends Type.TSchema>(schema: T) => Type.Union([schema, Type.Null()]);

export const WAY_KINDS = ["mail", "push", "webhook"] as const;
export type WayKind = (typeof WAY_KINDS)[number];

/** A time of day at the site, 24 h. */
const ClockTime = Type.String({
  pattern: "^([01][0-9]|2[0-3]):[0-5][0-9]$",
  description: "HH:MM, 24 h, time of the site",
});
/** What a way carries. What is only listed goes nowhere. */
const Levels = Type.Array(Type.Enum(["wake", "tell"]), { maxItems: 2, uniqueItems: true });
const MailAddress = Type.String({ pattern: "^[^\\s@,;<>]+@[^\\s@,;<>]+$", maxLength: 254 });
const WebAddress = Type.String({ pattern: "^https?://[^\\s@]+$", maxLength: 1000 });
const Cares = nullable(
  Type.Array(Type.Object({ site: Id, zones: nullable(Type.Array(Id, { maxItems: 200 })) }, closed), { maxItems: 200 }),
);

const common = {
  name: Name,
  language: Type.Enum(["en", "es"]),
  units: Type.Enum(["us", "si"]),
  /** Sites and zones that this contact cares for; null = all of them. */
  sites: Cares,
  /** From when to when only what wakes is sent; over midnight where `to` is earlier. */
  quiet: nullable(Type.Object({ from: ClockTime, to: ClockTime }, closed)),
  /** When to be told that all is well, or what is not; null = never. */
  allWellAt: nullable(ClockTime),
  mail: nullable(Type.Object({ address: MailAddress, levels: Levels }, closed)),
  pushLevels: Levels,
};
/** `secret` signs what is sent; one is made, and told once, where none is given. It is never told again. */
const WebhookWish = Type.Object(
  { url: WebAddress, levels: Levels, secret: Type.Optional(Type.String({ minLength: 16, maxLength: 200 })) },
  closed,
);
/** A contact; tied to a `person` it is that person's own, and ends with it. */
export const ContactWishSchema = Type.Object(
  { ...common, person: Type.Optional(nullable(Id)), webhook: Type.Optional(nullable(WebhookWish)) },
  closed,
);
export const ContactChangeSchema = Type.Partial(ContactWishSchema, closed);
export const OwnContactWishSchema = Type.Object({ ...common, name: Type.Optional(Name) }, closed);
export type ContactWish = Type.Static<typeof ContactWishSchema>;
export type ContactChange = Type.Static<typeof ContactChangeSchema>;
export type OwnContactWish = Type.Static<typeof OwnContactWishSchema>;

/** `id` is `mail`, `webhook`, or that of a browser. `label` tells a person which one, and holds no secret. */
export const WaySchema = Type.Object(
  {
    id: Id,
    kind: Type.Enum([...WAY_KINDS]),
    label: Name,
    levels: Levels,
    state: Type.Enum(["up", "failing"]),
    failingSince: NullableTime,
    lastError: nullable(Type.String()),
  },
  closed,
);
export type WayBody = Type.Static<typeof WaySchema>;
export const ContactSchema = Type.Object(
  { id: Id, person: nullable(Id), ...common, ways: Type.Array(WaySchema) },
  closed,
);
export type ContactBody = Type.Static<typeof ContactSchema>;
/** `webhookSecret` is told this once, where it was made here. */
export const ContactMadeSchema = Type.Object(
  { ...ContactSchema.properties, webhookSecret: nullable(Type.String()) },
  closed,
);
export type ContactMadeBody = Type.Static<typeof ContactMadeSchema>;

/** Who is woken first at a site, and who next when nobody answers. `others` care for the site and are not on call. */
const Named = Type.Object({ contact: Id, name: Name }, closed);
export const OnCallSchema = Type.Object({ order: Type.Array(Named), others: Type.Array(Named) }, closed);
export const OnCallWishSchema = Type.Object({ order: Type.Array(Id, { maxItems: 50, uniqueItems: true }) }, closed);
export type OnCallBody = Type.Static<typeof OnCallSchema>;

/** RFC 8292: public key of this server, for `applicationServerKey`, base64url. */
export const PushKeySchema = Type.Object({ key: Type.String() }, closed);
/** As `PushSubscription.toJSON()` gives it, with a name for the device. */
export const PushWishSchema = Type.Object(
  {
    endpoint: Type.String({ pattern: "^https?://[^\\s@]+$", maxLength: 2000 }),
    expirationTime: Type.Optional(Type.Union([Type.Number(), Type.Null()])),
    keys: Type.Object(
      {
        p256dh: Type.String({ pattern: "^[A-Za-z0-9_-]{87}=?$" }),
        auth: Type.String({ pattern: "^[A-Za-z0-9_-]{22}(==)?$" }),
      },
      closed,
    ),
    device: Type.Optional(Name),
  },
  closed,
);
export type PushWish = Type.Static<typeof PushWishSchema>;
/** `p-` and the first 16 hexadecimal digits of the SHA-256 of the endpoint: so a browser knows its own. */
export const PushMadeSchema = Type.Object({ id: Id }, closed);

/** `failed` is tried again, `given-up` is not. */
export const DELIVERY_STATES = ["queued", "sent", "failed", "given-up"] as const;
export type DeliveryState = (typeof DELIVERY_STATES)[number];
/** `notice` tells of a way that is gone. */
export const DELIVERY_KINDS = ["alarm", "all-well", "test", "notice"] as const;
export type DeliveryKind = (typeof DELIVERY_KINDS)[number];
/** `waitsUntil`: the end of quiet hours, or the next try. `title` and `body` as they were sent, without links. */
export const DeliverySchema = Type.Object(
  {
    id: Type.Integer(),
    kind: Type.Enum([...DELIVERY_KINDS]),
    site: Id,
    alarm: nullable(Id),
    step: nullable(Type.String()),
    level: Type.Enum([...ALARM_LEVELS]),
    contact: Id,
    name: Name,
    way: Id,
    wayKind: Type.Enum([...WAY_KINDS]),
    state: Type.Enum([...DELIVERY_STATES]),
    tries: Type.Integer(),
    madeAt: IsoTime,
    waitsUntil: NullableTime,
    sentAt: NullableTime,
    lastError: nullable(Type.String()),
    title: Type.String(),
    body: Type.String(),
  },
  closed,
);
export type DeliveryBody = Type.Static<typeof DeliverySchema>;

export const TestedSchema = Type.Object(
  {
    results: Type.Array(
      Type.Object(
        { way: Id, kind: Type.Enum([...WAY_KINDS]), label: Name, ok: Type.Boolean(), detail: nullable(Type.String()) },
        closed,
      ),
    ),
  },
  closed,
);
export type TestedBody = Type.Static<typeof TestedSchema>;

/** What a service worker gets; the addresses are paths of this server. `tag`: a later message of the alarm takes its place. */
export const PushMessageSchema = Type.Object(
  {
    title: Type.String(),
    body: Type.String(),
    tag: Type.String(),
    level: Type.Enum(["wake", "tell"]),
    language: Type.Enum(["en", "es"]),
    open: Type.String(),
    acknowledge: nullable(Type.String()),
  },
  closed,
);
export type PushMessage = Type.Static<typeof PushMessageSchema>;

/** `key` is the same when a message comes twice. Links are null while the server does not know its own address. */
export const WebhookMessageSchema = Type.Object(
  {
    key: Type.String(),
    kind: Type.Enum([...DELIVERY_KINDS]),
    level: Type.Enum(["wake", "tell"]),
    site: Id,
    step: nullable(Type.String()),
    title: Type.String(),
    body: Type.String(),
    open: nullable(Type.String()),
    acknowledge: nullable(Type.String()),
    alarm: nullable(AlarmSchema),
  },
  closed,
);
export type WebhookMessage = Type.Static<typeof WebhookMessageSchema>;
/** Seconds since 1970 at which it was signed, and HMAC-SHA-256(secret, `{that}.{body}`) in hexadecimal. */
export const WEBHOOK_AT_HEADER = "x-nightslab-at";
export const WEBHOOK_SIGNATURE_HEADER = "x-nightslab-signature";

/** Sirens of a site: what signs in as `{site}/siren/{siren}` at the built-in broker. */
export const SirenSchema = Type.Object({ siren: Id, madeAt: IsoTime }, closed);
export const SirenWishSchema = Type.Object({ siren: Id }, closed);
export const SirenMadeSchema = Type.Object(
  { ...SirenSchema.properties, username: Type.String(), password: Type.String() },
  closed,
);
export type SirenBody = Type.Static<typeof SirenSchema>;
export type SirenMadeBody = Type.Static<typeof SirenMadeSchema>;
/** Retained, and told again every minute while it sounds: sound for `forS` seconds from hearing it, unless told otherwise. */
export const SirenStateSchema = Type.Object(
  { sound: Type.Boolean(), forS: Type.Integer(), at: IsoTime, alarms: Type.Array(Id) },
  closed,
);
export type SirenState = Type.Static<typeof SirenStateSchema>;
