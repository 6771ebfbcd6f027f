// Contacts: who is told and by which ways, each change checked against what the house has.
import { randomBytes } from "node:crypto";
import type * as Notify from "#contract/notify.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import { type Answer, good, refuse } from "./answer.ts";
import type { FailingWay, KeptContact, KeptPush, NotifyStore, SiteFacts } from "./ports.ts";
import { isPushAddress, pushId } from "./push.ts";
import { caresFor } from "./whom.ts";
import type { WaysOf } from "./ways.ts";

/** Somebody who can sign in, as far as it matters here. */
export interface Person {
  readonly name: string;
  /** Null = every site. */
  readonly sites: readonly string[] | null;
}

export interface ContactsParts {
  readonly store: NotifyStore;
  readonly waysOf: WaysOf;
  readonly now: () => number;
  readonly sites: () => readonly SiteFacts[];
  readonly person: (id: string) => Person | null;
  readonly hasMail: boolean;
  /** Which addresses a browser may name; those of public push services unless given. */
  readonly pushAddress?: (endpoint: string) => boolean;
}

const MOST_CONTACTS = 200;
const MOST_BROWSERS = 10;
const MISSING = (id: string) => refuse("missing", "/contact", `no contact "${id}"`);

export function createContacts(parts: ContactsParts) {
  const { store, waysOf, sites } = parts;
  const isPush = parts.pushAddress ?? isPushAddress;
  const find = (id: string) => store.contacts().find((one) => one.id === id) ?? null;

  function bodyOf(
    contact: KeptContact,
    pushes: readonly KeptPush[],
    failing: readonly FailingWay[],
  ): Notify.ContactBody {
    const { webhook: _, ...shown } = contact;
    return {
      ...shown,
      ways: waysOf(contact, pushes).map(({ id, kind, label, levels }) => {
        const trouble = failing.find((one) => one.contact === contact.id && one.way === id);
        return {
          ...{ id, kind, label, levels: [...levels] },
          state: trouble === undefined ? "up" : "failing",
          failingSince: isoOrNull(trouble?.sinceMs ?? null),
          lastError: trouble?.lastError ?? null,
        };
      }),
    };
  }
  const shown = (contact: KeptContact) => bodyOf(contact, store.pushes(), store.failing());

  function faultOf(contact: KeptContact, border: readonly string[] | null): ReturnType<typeof refuse> | null {
    const known = sites().filter(({ id }) => border === null || border.includes(id));
    for (const [at, wanted] of (contact.sites ?? []).entries()) {
      const site = known.find(({ id }) => id === wanted.site);
      if (site === undefined) return refuse("invalid", `/sites/${at}/site`, `no site "${wanted.site}"`);
      const zone = wanted.zones?.find((id) => !site.zones.some((one) => one.id === id));
      if (zone !== undefined) return refuse("invalid", `/sites/${at}/zones`, `no zone "${zone}" on this site`);
    }
    if (contact.mail !== null && !parts.hasMail)
      return refuse("conflict", "/mail", "this server has no mail server (settings smtpUrl and mailFrom)");
    if (contact.person !== null) {
      if (parts.person(contact.person) === null) return refuse("invalid", "/person", `no person "${contact.person}"`);
      const other = store.contacts().find(({ id, person }) => person === contact.person && id !== contact.id);
      if (other !== undefined) return refuse("conflict", "/person", `has a contact: "${other.name}"`);
    }
    return null;
  }

  /** A web hook keeps its secret unless it gets another; one that has none gets one. */
  function webhookFrom(wish: Notify.ContactWish["webhook"], before: KeptContact | null): KeptContact["webhook"] {
    if (wish === undefined) return before?.webhook ?? null;
    if (wish === null) return null;
    const kept = before?.webhook?.secret;
    return { url: wish.url, levels: wish.levels, secret: wish.secret ?? kept ?? randomBytes(32).toString("base64url") };
  }

  function put(
    contact: KeptContact,
    before: KeptContact | null,
    wish: Notify.ContactWish["webhook"],
  ): Answer<Notify.ContactMadeBody> {
    const fault = faultOf(contact, null);
    if (fault !== null) return fault;
    store.putContact(contact);
    // What failed was the old address.
    if (before?.mail?.address !== contact.mail?.address) store.wayWorks(contact.id, "mail");
    if (before?.webhook?.url !== contact.webhook?.url) store.wayWorks(contact.id, "webhook");
    const isNew = contact.webhook !== null && before?.webhook?.secret !== contact.webhook.secret;
    const webhookSecret = isNew && wish?.secret === undefined ? (contact.webhook?.secret ?? null) : null;
    return good({ ...shown(contact), webhookSecret });
  }

  const own = (person: string) => store.contacts().find((one) => one.person === person) ?? null;

  return {
    find,
    all: () => store.contacts(),
    contacts: (): Notify.ContactBody[] => {
      const [pushes, failing] = [store.pushes(), store.failing()];
      return store.contacts().map((contact) => bodyOf(contact, pushes, failing));
    },
    addContact(wish: Notify.ContactWish): Answer<Notify.ContactMadeBody> {
      if (store.contacts().length >= MOST_CONTACTS)
        return refuse("conflict", "/", `there are ${MOST_CONTACTS} contacts`);
      const { webhook, person = null, ...rest } = wish;
      const id = `c-${randomBytes(6).toString("hex")}`;
      return put({ ...rest, id, person, webhook: webhookFrom(webhook, null) }, null, webhook);
    },
    changeContact(id: string, change: Notify.ContactChange): Answer<Notify.ContactMadeBody> {
      const before = find(id);
      if (before === null) return MISSING(id);
      const { webhook, ...rest } = change;
      return put({ ...before, ...rest, id, webhook: webhookFrom(webhook, before) }, before, webhook);
    },
    removeContact(id: string): Answer<null> {
      if (find(id) === null) return MISSING(id);
      store.removeContact(id);
      return good(null);
    },
    ownContact({ person }: { readonly person: string }): Notify.ContactBody | null {
      const found = own(person);
      return found === null ? null : shown(found);
    },
    putOwnContact(
      owner: Person & { readonly person: string },
      { name = owner.name, ...wish }: Notify.OwnContactWish,
    ): Answer<Notify.ContactBody> {
      const before = own(owner.person);
      const id = before?.id ?? `c-${randomBytes(6).toString("hex")}`;
      const contact = { ...wish, name, id, person: owner.person, webhook: before?.webhook ?? null };
      const fault = faultOf(contact, owner.sites);
      if (fault !== null) return fault;
      const answer = put(contact, before, undefined);
      return answer.ok ? good(shown(contact)) : answer;
    },
    onCall(site: string): Answer<Notify.OnCallBody> {
      if (!sites().some(({ id }) => id === site)) return refuse("missing", "/site", `no site "${site}"`);
      const named = ({ id, name }: KeptContact) => ({ contact: id, name });
      const caring = store.contacts().filter((one) => caresFor(one, site, []));
      const order = store.order(site).flatMap((id) => caring.find((one) => one.id === id) ?? []);
      return good({ order: order.map(named), others: caring.filter((one) => !order.includes(one)).map(named) });
    },
    putOnCall(site: string, order: readonly string[]): Answer<Notify.OnCallBody> {
      const [at] = [...order.entries()].filter(([, id]) => {
        const contact = find(id);
        return contact === null || !caresFor(contact, site, []);
      });
      if (at !== undefined)
        return refuse("invalid", `/order/${at[0]}`, `no contact "${at[1]}" that cares for this site`);
      const stands = this.onCall(site);
      if (stands.ok) store.putOrder(site, order);
      return stands.ok ? this.onCall(site) : stands;
    },
    subscribe(
      contact: string,
      { endpoint, keys, device = "browser" }: Notify.PushWish,
    ): Answer<{ readonly id: string }> {
      if (find(contact) === null) return MISSING(contact);
      if (!isPush(endpoint)) return refuse("invalid", "/endpoint", "is not the HTTPS address of a public push service");
      const id = pushId(endpoint);
      const pushes = store.pushes().filter((push) => push.contact === contact);
      if (pushes.length >= MOST_BROWSERS && !pushes.some((push) => push.id === id))
        return refuse("conflict", "/", `${MOST_BROWSERS} browsers ring already: remove one`);
      store.together(() => {
        store.putPush({ id, contact, endpoint, keys, device, madeMs: parts.now() });
        const ids = store.pushes().map((push) => push.id);
        for (const { contact: of, way } of store.failing())
          if (of === contact && way.startsWith("p-") && !ids.includes(way)) store.wayWorks(of, way);
      });
      return good({ id });
    },
    unsubscribe(contact: string, push: string): Answer<null> {
      if (!store.pushes().some((one) => one.id === push && one.contact === contact))
        return refuse("missing", "/push", `no browser "${push}" rings for this contact`);
      store.removePush(push);
      return good(null);
    },
    sirens(site: string): Notify.SirenBody[] {
      return store.sirens(site).map(({ siren, madeMs }) => ({ siren, madeAt: isoFromMs(madeMs) }));
    },
  };
}
export type Contacts = ReturnType<typeof createContacts>;
