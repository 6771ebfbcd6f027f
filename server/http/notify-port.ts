// The port of the door towards whoever tells people.
import type * as Notify from "#contract/notify.ts";
import type { Answer } from "./answer.ts";

/** Whose contact it is, and which sites that person may know of; null = every site. */
export interface Owner {
  readonly person: string;
  readonly name: string;
  readonly sites: readonly string[] | null;
}

/** What the page behind a link in a message shows. `expired` also stands for a link that never was. */
export type ReplyPage =
  | { readonly state: "expired" }
  | {
      readonly state: "open" | "done";
      readonly language: "en" | "es";
      readonly title: string;
      readonly body: string;
      /** Who has answered the alarm; null while nobody has. */
      readonly by: string | null;
      /** Of the screen that shows it. */
      readonly path: string;
    };

export interface NotifyDesk {
  contacts(): readonly Notify.ContactBody[];
  addContact(wish: Notify.ContactWish): Answer<Notify.ContactMadeBody>;
  changeContact(contact: string, change: Notify.ContactChange): Answer<Notify.ContactMadeBody>;
  removeContact(contact: string): Answer<null>;
  ownContact(owner: Owner): Notify.ContactBody | null;
  putOwnContact(owner: Owner, wish: Notify.OwnContactWish): Answer<Notify.ContactBody>;
  onCall(site: string): Answer<Notify.OnCallBody>;
  putOnCall(site: string, order: readonly string[]): Answer<Notify.OnCallBody>;
  pushKey(): string;
  subscribe(contact: string, wish: Notify.PushWish): Answer<{ readonly id: string }>;
  unsubscribe(contact: string, push: string): Answer<null>;
  /** Sends to every way of a contact at once and waits for what comes of it. */
  test(contact: string): Promise<Answer<Notify.TestedBody>>;
  deliveries(
    site: string,
    query: { readonly alarm: string | null; readonly before: number | null; readonly limit: number },
  ): Answer<readonly Notify.DeliveryBody[]>;
  sirens(site: string): Answer<readonly Notify.SirenBody[]>;
  addSiren(site: string, siren: string): Answer<Notify.SirenMadeBody>;
  removeSiren(site: string, siren: string): Answer<null>;
  reply(token: string): ReplyPage;
  /** Acknowledges the alarm that the link is for, once; gives the page as it is then. */
  answerReply(token: string): ReplyPage;
}
