// What the store keeps of telling people.
import type { AlarmBody } from "#contract/alarm.ts";
import type { ContactWish, DeliveryKind, DeliveryState, PushWish } from "#contract/notify.ts";

type SentLevel = "wake" | "tell";

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
  readonly about: AlarmBody | null;
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

export interface ContactStore {
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
  failing(): FailingWay[];
  wayFailed(contact: string, way: string, why: string, atMs: number): void;
  wayWorks(contact: string, way: string): void;
  sirens(site: string): KeptSiren[];
  putSiren(site: string, siren: string, key: string, madeMs: number): void;
  removeSiren(site: string, siren: string): boolean;
  sirenKey(site: string, siren: string): string | null;
}

export interface DeliveryStore {
  /** How many had a key that was not there yet. One that was only to be told, and waits, is to wake now if this one is. */
  add(rows: readonly NewDelivery[]): number;
  /** Contact and way of everything that waits and may go by now. */
  waysDue(nowMs: number): { readonly contact: string; readonly way: string }[];
  /** What waits for a way and may go by now, oldest first. */
  due(contact: string, way: string, nowMs: number, limit: number): KeptDelivery[];
  delivery(seq: number): KeptDelivery | null;
  seqOf(key: string): number | null;
  /** Newest first. */
  deliveries(site: string, alarm: string | null, before: number | null, limit: number): KeptDelivery[];
  /** Contacts to whom something of the alarm went or goes. */
  told(site: string, alarm: string): Set<string>;
  sent(seqs: readonly number[], atMs: number): void;
  /** `nextTryMs` null: there is none. */
  failed(seqs: readonly number[], why: string, nextTryMs: number | null): void;
  postpone(seq: number, level: SentLevel, notBeforeMs: number): void;
  /** True for the one who comes first. */
  reply(seq: number, atMs: number): boolean;
  waiting(): { readonly count: number; readonly oldestMs: number | null };
  /** Drops what was sent or given up before this. */
  forget(beforeMs: number): void;
}

export interface NotifyStore extends ContactStore, DeliveryStore {
  together<T>(work: () => T): T;
}
