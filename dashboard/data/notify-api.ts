// What the page of who is told asks of the server. Loaded with it.
import type { CalendarBody, CalendarMadeBody, CalendarWish } from "#contract/calendar.ts";
import type { HealthBody } from "#contract/health.ts";
import type {
  ContactBody,
  ContactChange,
  ContactMadeBody,
  ContactWish,
  OnCallBody,
  OwnContactWish,
  PushWish,
  TestedBody,
} from "#contract/notify.ts";
import { ask, change } from "./api.ts";

const contactAt = (id: string) => `/contacts/${encodeURIComponent(id)}`;
const onCallAt = (site: string) => `/sites/${encodeURIComponent(site)}/on-call`;
const put = (body: unknown): RequestInit => ({ ...change("POST", body), method: "PUT" });

const calendarsAt = (site: string) => `/sites/${encodeURIComponent(site)}/calendars`;

/** Null: one's own contact. */
const pushAt = (contact: string | null) => `${contact === null ? "/own-contact" : contactAt(contact)}/push`;

export const notifyApi = {
  contacts: async () => (await ask<{ readonly contacts: readonly ContactBody[] }>("/contacts")).contacts,
  add: (wish: ContactWish) => ask<ContactMadeBody>("/contacts", change("POST", wish)),
  change: (id: string, part: ContactChange) => ask<ContactMadeBody>(contactAt(id), change("PATCH", part)),
  remove: (id: string) => ask<null>(contactAt(id), change("DELETE")),
  test: (contact: string | null) =>
    ask<TestedBody>(`${contact === null ? "/own-contact" : contactAt(contact)}/test`, change("POST", {})),
  own: async () => (await ask<{ readonly contact: ContactBody | null }>("/own-contact")).contact,
  putOwn: (wish: OwnContactWish) => ask<ContactBody>("/own-contact", put(wish)),
  onCall: (site: string) => ask<OnCallBody>(onCallAt(site)),
  putOnCall: (site: string, order: readonly string[]) => ask<OnCallBody>(onCallAt(site), put({ order })),
  pushKey: async () => (await ask<{ readonly key: string }>("/push-key")).key,
  subscribe: (contact: string | null, wish: PushWish) =>
    ask<{ readonly id: string }>(pushAt(contact), change("POST", wish)),
  unsubscribe: (contact: string | null, push: string) =>
    ask<null>(`${pushAt(contact)}/${encodeURIComponent(push)}`, change("DELETE")),
  calendars: async (site: string) =>
    (await ask<{ readonly calendars: readonly CalendarBody[] }>(calendarsAt(site))).calendars,
  makeCalendar: (site: string, wish: CalendarWish) => ask<CalendarMadeBody>(calendarsAt(site), change("POST", wish)),
  withdrawCalendar: (site: string, id: string) =>
    ask<null>(`${calendarsAt(site)}/${encodeURIComponent(id)}`, change("DELETE")),
  /** A server that is down says so with 503, which is an answer too. */
  async health(): Promise<HealthBody> {
    const answer = await fetch("/api/v1/health", { headers: { accept: "application/json" } });
    return (await answer.json()) as HealthBody;
  },
};
