// Telling people: takes each step of an alarm, keeps what is to be sent to whom, and sends it.
import { createHash, randomBytes } from "node:crypto";
import type { PartHealth } from "#contract/health.ts";
import type * as Notify from "#contract/notify.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import { allWellRows } from "./all-well.ts";
import { type Answer, good, refuse } from "./answer.ts";
import { createContacts, type Person } from "./contacts.ts";
import type { NotifyKeys } from "./keys.ts";
import { alarmKey, alarmText, letterOf } from "./letters.ts";
import { createOutbox } from "./outbox.ts";
import type {
  AlarmBody,
  AlarmBook,
  AlarmStepBody,
  KeptContact,
  KeptDelivery,
  NewDelivery,
  NotifyStore,
  SiteFacts,
} from "./ports.ts";
import { createReplies } from "./replies.ts";
import { createTests } from "./tests.ts";
import { createWays, reachOf, type WayMakerParts } from "./ways.ts";
import { type Reach, whom } from "./whom.ts";
import { wordsOf } from "./words.ts";

export interface NotifyParts extends Omit<WayMakerParts, "keys"> {
  readonly store: NotifyStore;
  readonly keys: NotifyKeys;
  readonly now: () => number;
  readonly book: AlarmBook;
  readonly sites: () => readonly SiteFacts[];
  /** Null for somebody who is there no more. */
  readonly person: (id: string) => Person | null;
  /** Whether broker, store and judge work. */
  readonly serverWell: () => boolean;
  /** A siren that may listen no more hangs up. */
  readonly sirenGone?: (site: string, siren: string) => void;
  readonly failed: (what: string, error: unknown) => void;
  readonly pushAddress?: (endpoint: string) => boolean;
}

const DAY_MS = 86_400_000;
const KEPT_MS = 90 * DAY_MS;
/** A way is said to fail when that was so at three tries, or for three minutes. */
const FAILING_TIMES = 3;
const FAILING_MS = 180_000;
/** A wake that failed twice is told to others at once. */
const TRIES_BEFORE_OTHERS = 2;

export function createNotify(parts: NotifyParts) {
  const { store, keys, now, book } = parts;
  const waysOf = createWays(parts);
  const contacts = createContacts({ ...parts, waysOf, hasMail: parts.mail !== null });
  const replies = createReplies({ store, keys, book, contact: contacts.find, now });
  const siteOf = (id: string): SiteFacts =>
    parts.sites().find((site) => site.id === id) ?? { id, name: id, timezone: "UTC", zones: [] };
  let forgotDay = 0;

  /** Contacts that may know of a site: a person's borders hold for messages too. */
  function reaches(site: string): { readonly contact: KeptContact; readonly reach: Reach }[] {
    const [pushes, failing] = [store.pushes(), store.failing()];
    return contacts.all().flatMap((contact) => {
      const person = contact.person === null ? null : parts.person(contact.person);
      if (contact.person !== null && (person === null || person.sites?.includes(site) === false)) return [];
      return [{ contact, reach: reachOf(contact, waysOf(contact, pushes), failing) }];
    });
  }

  function rowsFor(alarm: AlarmBody, step: AlarmStepBody): NewDelivery[] {
    const nowMs = now();
    const site = siteOf(alarm.site);
    const among = reaches(alarm.site);
    const circumstances = {
      order: store.order(alarm.site),
      timezone: site.timezone,
      told: store.told(alarm.site, alarm.id),
      nowMs,
    };
    const wanted = whom(
      alarm,
      step,
      among.map(({ reach }) => reach),
      circumstances,
    );
    return wanted.flatMap(({ contact: id, way, level, notBeforeMs }) => {
      const to = among.find(({ contact }) => contact.id === id);
      if (to === undefined) return [];
      const text = alarmText(alarm, step, to.contact, site, nowMs);
      return [
        {
          ...{ key: alarmKey(alarm, step, id, way), kind: "alarm", site: alarm.site, alarm: alarm.id, step: step.step },
          ...{ level, contact: id, way, madeMs: nowMs, notBeforeMs, ...text, about: alarm },
        } satisfies NewDelivery,
      ];
    });
  }

  /** The step that a row was made for. */
  const stepOf = ({ about, step }: KeptDelivery) => about?.history.findLast((one) => one.step === step) ?? null;

  function goneNotice(row: KeptDelivery, device: string): void {
    const contact = contacts.find(row.contact);
    if (contact === null) return;
    const { title, body } = wordsOf(contact.language).gone;
    const nowMs = now();
    store.add(
      waysOf(contact, store.pushes()).map(({ id }) => ({
        ...{ key: `gone/${row.way}/${contact.id}/${id}/${row.seq}`, kind: "notice", site: row.site, alarm: null },
        ...{ step: null, level: "tell", contact: contact.id, way: id, madeMs: nowMs, notBeforeMs: nowMs },
        ...{ title, body: body(device), about: null },
      })),
    );
  }

  const outbox = createOutbox({
    store,
    now,
    contact(id) {
      const contact = contacts.find(id);
      return contact === null ? null : { contact, ways: waysOf(contact, store.pushes()) };
    },
    letter: (rows, contact) => letterOf(rows, contact, siteOf(rows[0].site).name, replies.pathFor),
    isOpen({ site, alarm }) {
      const stands = alarm === null ? null : book.find(site, alarm);
      return stands === null ? null : stands.state === "open";
    },
    timezone: (site) => siteOf(site).timezone,
    troubled(rows, sent) {
      const [first] = rows;
      const push = store.pushes().find(({ id }) => id === first?.way);
      if (sent.gone === true && first !== undefined && push !== undefined) {
        store.removePush(push.id);
        // It stays among the failing ways until another browser rings, so that it is told of.
        store.wayFailed(first.contact, push.id, `${sent.why}: ${push.device} rings no more`, now());
        goneNotice(first, push.device);
      }
      for (const row of rows) {
        const step = stepOf(row);
        const isLost = !sent.again || (row.level === "wake" && row.tries + 1 >= TRIES_BEFORE_OTHERS);
        if (isLost && row.about !== null && step !== null) store.add(rowsFor(row.about, step));
      }
    },
    failed: parts.failed,
  });

  function failing(site: string): { readonly about: string; readonly sinceMs: number }[] {
    const nowMs = now();
    const all = contacts.all();
    return store.failing().flatMap(({ contact: id, way, sinceMs, times, lastError }) => {
      const contact = all.find((one) => one.id === id);
      const cares = contact?.sites?.some((one) => one.site === site) ?? contact !== undefined;
      const isGone = way.startsWith("p-") && !store.pushes().some((push) => push.id === way);
      if (contact === undefined || !cares) return [];
      if (!isGone && times < FAILING_TIMES && nowMs - sinceMs < FAILING_MS) return [];
      const what = way === "mail" ? "e-mail" : way === "webhook" ? "web hook" : "push";
      return [{ about: `${contact.name}, ${what}: ${lastError}`.slice(0, 200), sinceMs }];
    });
  }

  function allWell(): void {
    const nowMs = now();
    const due = contacts.all().filter(({ allWellAt }) => allWellAt !== null);
    if (due.length === 0) return;
    for (const site of parts.sites()) {
      const may = new Set(reaches(site.id).map(({ contact }) => contact.id));
      const facts = { site, open: book.open(site.id), serverWell: parts.serverWell(), nowMs };
      for (const contact of due.filter(({ id }) => may.has(id)))
        store.add(allWellRows(contact, waysOf(contact, store.pushes()), facts));
    }
  }

  const tests = createTests({ ...parts, contact: contacts.find, waysOf });
  const hasSite = (site: string) => parts.sites().some(({ id }) => id === site);
  const missing = (site: string) => refuse("missing", "/site", `no site "${site}"`);

  return {
    ...contacts,
    ...replies,
    ...tests,
    pushKey: () => keys.vapidPublic,
    failing,

    /** One step of an alarm. What is to be sent is on the disk when this returns. */
    tell(_site: string, alarm: AlarmBody, step: AlarmStepBody): void {
      try {
        store.add(rowsFor(alarm, step));
      } catch (error) {
        parts.failed(`keeping whom to tell of ${alarm.id}`, error);
      }
      outbox.tick();
    },
    deliveries(
      site: string,
      {
        alarm,
        before,
        limit,
      }: { readonly alarm: string | null; readonly before: number | null; readonly limit: number },
    ): Answer<Notify.DeliveryBody[]> {
      if (!hasSite(site)) return missing(site);
      const all = contacts.all();
      return good(store.deliveries(site, alarm, before, limit).map((row) => deliveryBody(row, all)));
    },
    sirens: (site: string): Answer<Notify.SirenBody[]> => (hasSite(site) ? good(contacts.sirens(site)) : missing(site)),
    addSiren(site: string, siren: string): Answer<Notify.SirenMadeBody> {
      if (!hasSite(site)) return missing(site);
      const password = randomBytes(24).toString("base64url");
      const atMs = now();
      store.putSiren(site, siren, createHash("sha256").update(password).digest("hex"), atMs);
      return good({ siren, madeAt: isoFromMs(atMs), username: `${site}/siren/${siren}`, password });
    },
    removeSiren(site: string, siren: string): Answer<null> {
      if (!store.removeSiren(site, siren)) return refuse("missing", "/siren", `no siren "${siren}" on this site`);
      parts.sirenGone?.(site, siren);
      return good(null);
    },

    /** Called every second or so. */
    tick(): void {
      try {
        allWell();
        const today = Math.floor(now() / DAY_MS);
        if (today !== forgotDay) store.forget(now() - KEPT_MS);
        forgotDay = today;
        outbox.tick();
      } catch (error) {
        parts.failed("telling people", error);
      }
    },
    health(): PartHealth {
      const [first, ...more] = parts.sites().flatMap(({ id }) => failing(id));
      if (first !== undefined)
        return { state: "degraded", detail: `${first.about}${more.length > 0 ? `; and ${more.length} more` : ""}` };
      const { count } = store.waiting();
      if (contacts.all().length === 0) return { state: "up", detail: "nobody is told: there is no contact" };
      return { state: "up", detail: count === 0 ? null : `${count} messages wait for their time` };
    },
    idle: () => outbox.idle(),
    close: (patienceMs?: number) => outbox.close(patienceMs),
  };
}

function deliveryBody(row: KeptDelivery, all: readonly KeptContact[]): Notify.DeliveryBody {
  const { seq, kind, site, alarm, step, level, contact, way, state, tries, lastError, title, body } = row;
  const waitsMs = Math.max(row.notBeforeMs, row.nextTryMs);
  return {
    ...{ id: seq, kind, site, alarm, step, level, contact, way, state, tries, lastError, title, body },
    name: all.find(({ id }) => id === contact)?.name ?? contact,
    wayKind: way === "mail" || way === "webhook" ? way : "push",
    madeAt: isoFromMs(row.madeMs),
    waitsUntil: isoOrNull(state === "queued" || state === "failed" ? waitsMs : null),
    sentAt: isoOrNull(row.sentMs),
  };
}
export type NotifyDesk = ReturnType<typeof createNotify>;
