// What this folder needs: a store, the alarms, the sites.
import type { AlarmBody, AlarmStepBody } from "#contract/alarm.ts";
import type { CallBody } from "#contract/call.ts";
import type { ContactWish, DeliveryKind, DeliveryState, PushWish, WayKind } from "#contract/notify.ts";
import type { SentLevel } from "./whom.ts";

/** A contact as it is kept. The secret of a web hook stands in the database alone. */
export interface KeptContact extends Omit<ContactWish, "webhook" | "person"> {
  readonly id: string;
  readonly person: string | null;
  readonly webhook: { readonly url: string; readonly secret: string; readonly levels: SentLevel[] } | null;
}

export interface KeptPush {
  readonly id: string;
  readonly contact: string;
  readonly endpoint: string;
  readonly keys: PushWish["keys"];
  readonly device: string;
  readonly madeMs: number;
}

export interface KeptDelivery {
  readonly seq: number;
  /** The same alarm, step, contact and way has the same key. */
  readonly key: string;
  readonly kind: DeliveryKind;
  readonly site: string;
  readonly alarm: string | null;
  readonly step: string | null;
  readonly level: SentLevel;
  readonly contact: string;
  readonly way: string;
  readonly state: DeliveryState;
  readonly tries: number;
  readonly madeMs: number;
  readonly notBeforeMs: number;
  readonly nextTryMs: number;
  readonly sentMs: number | null;
  readonly lastError: string | null;
  readonly title: string;
  readonly body: string;
  /** The alarm as it stood after the step; null where there is none. */
  readonly about: AlarmBody | null;
  /** When its link was used. */
  readonly repliedMs: number | null;
}
export type NewDelivery = Omit<
  KeptDelivery,
  "seq" | "state" | "tries" | "sentMs" | "lastError" | "repliedMs" | "nextTryMs"
>;

export interface FailingWay {
  readonly contact: string;
  readonly way: string;
  readonly sinceMs: number;
  readonly times: number;
  readonly lastError: string;
}

export interface KeptSiren {
  readonly siren: string;
  /** SHA-256 of its password, hexadecimal. */
  readonly key: string;
  readonly madeMs: number;
}

export interface NotifyStore {
  contacts(): KeptContact[];
  putContact(contact: KeptContact): void;
  /** With its browsers, its failing ways and its place in every order; what waits for it is given up. */
  removeContact(id: string): void;
  pushes(): KeptPush[];
  /** A browser rings for one contact: it leaves another's. */
  putPush(push: KeptPush): void;
  removePush(id: string): void;
  order(site: string): string[];
  putOrder(site: string, order: readonly string[]): void;

  /** How many had a key that was not there yet. One that was only to be told, and waits, is to wake now if this one is. */
  add(rows: readonly NewDelivery[]): number;
  /** Contact and way of everything that waits and may go by now. */
  waysDue(nowMs: number): { readonly contact: string; readonly way: string }[];
  /** What waits for a way and may go by now, oldest first. */
  due(contact: string, way: string, nowMs: number, limit: number): KeptDelivery[];
  delivery(seq: number): KeptDelivery | null;
  seqOf(key: string): number | null;
  deliveries(site: string, alarm: string | null, before: number | null, limit: number): KeptDelivery[];
  told(site: string, alarm: string): Set<string>;
  sent(seqs: readonly number[], atMs: number): void;
  failed(seqs: readonly number[], why: string, nextTryMs: number | null): void;
  postpone(seq: number, level: SentLevel, notBeforeMs: number): void;
  /** True for the one who comes first. */
  reply(seq: number, atMs: number): boolean;
  waiting(): { readonly count: number; readonly oldestMs: number | null };
  forget(beforeMs: number): void;

  failing(): FailingWay[];
  wayFailed(contact: string, way: string, why: string, atMs: number): void;
  wayWorks(contact: string, way: string): void;

  sirens(site: string): KeptSiren[];
  putSiren(site: string, siren: string, key: string, madeMs: number): void;
  removeSiren(site: string, siren: string): boolean;
  sirenKey(site: string, siren: string): string | null;
  together<T>(work: () => T): T;
}

export interface SiteFacts {
  readonly id: string;
  readonly name: string;
  readonly timezone: string;
  readonly zones: readonly { readonly id: string; readonly name: string; readonly call: CallBody | null }[];
}

/** The alarms of the house, as far as they are answered from here. */
export interface AlarmBook {
  open(site: string): readonly AlarmBody[];
  find(site: string, alarm: string): AlarmBody | null;
  /** False when it can no longer be acknowledged. */
  acknowledge(site: string, alarm: string, by: string): boolean;
}

export type Language = "en" | "es";
export type Units = "us" | "si";
export interface Sentence {
  readonly title: string;
  readonly body: string;
}
/** What a way is given to carry. `open` and `acknowledge` are paths of this server. */
export interface Letter {
  readonly key: string;
  /** Later letters of the same thing take the place of earlier ones. */
  readonly thread: string;
  readonly kind: DeliveryKind;
  readonly level: SentLevel;
  readonly site: string;
  readonly step: string | null;
  readonly title: string;
  readonly body: string;
  readonly language: Language;
  readonly open: string;
  readonly acknowledge: string | null;
  readonly alarm: AlarmBody | null;
}

/** `again`: worth another try, `afterMs` from now at the earliest. `gone`: whoever it was for takes nothing any more. */
export type Sent =
  | { readonly ok: true }
  | {
      readonly ok: false;
      readonly why: string;
      readonly again: boolean;
      readonly afterMs?: number;
      readonly gone?: true;
    };

export interface Way {
  readonly id: string;
  readonly kind: WayKind;
  readonly label: string;
  readonly levels: readonly SentLevel[];
  send(letter: Letter): Promise<Sent>;
}

export type { AlarmBody, AlarmStepBody, PushWish };
