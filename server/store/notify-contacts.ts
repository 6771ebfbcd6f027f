// Contacts, their browsers, the on-call order, ways that fail and sirens, in the embedded database.
import type { ContactStore, FailingWay, KeptContact, KeptPush } from "./notify-ports.ts";
import type { Database } from "./sql.ts";

type ContactText = Omit<KeptContact, "id">;

export function createContacts(db: Database): ContactStore {
  const one = (sql: string) => db.prepare(sql);
  const contacts = one("SELECT id, body FROM contacts ORDER BY id");
  const putContact = one("INSERT INTO contacts (id, body) VALUES (?1, ?2) ON CONFLICT (id) DO UPDATE SET body = ?2");
  const dropContact = one("DELETE FROM contacts WHERE id = ?");
  const pushes = one("SELECT id, contact, endpoint, p256dh, auth, device, made_ms FROM pushes ORDER BY made_ms, id");
  const putPush = one(
    `INSERT INTO pushes (id, contact, endpoint, p256dh, auth, device, made_ms) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
     ON CONFLICT (id) DO UPDATE SET contact = ?2, endpoint = ?3, p256dh = ?4, auth = ?5, device = ?6`,
  );
  const dropPush = one("DELETE FROM pushes WHERE id = ?");
  const dropPushes = one("DELETE FROM pushes WHERE contact = ?");
  const order = one("SELECT contacts FROM on_call WHERE site = ?");
  const orders = one("SELECT site, contacts FROM on_call");
  const putOrder = one(
    "INSERT INTO on_call (site, contacts) VALUES (?1, ?2) ON CONFLICT (site) DO UPDATE SET contacts = ?2",
  );
  const giveUp = one(
    `UPDATE deliveries SET state = 'given-up', last_error = ?2 WHERE contact = ?1 AND (?3 IS NULL OR way = ?3) AND state IN ('queued', 'failed')`,
  );
  const failing = one("SELECT contact, way, since_ms, times, last_error FROM failing_ways ORDER BY contact, way");
  const wayFailed = one(
    `INSERT INTO failing_ways (contact, way, since_ms, times, last_error) VALUES (?1, ?2, ?3, 1, ?4)
     ON CONFLICT (contact, way) DO UPDATE SET times = times + 1, last_error = ?4`,
  );
  const wayWorks = one("DELETE FROM failing_ways WHERE contact = ? AND way = ?");
  const waysForgotten = one("DELETE FROM failing_ways WHERE contact = ?");
  const sirens = one("SELECT siren, key, made_ms FROM sirens WHERE site = ? ORDER BY siren");
  const putSiren = one(
    "INSERT INTO sirens (site, siren, key, made_ms) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (site, siren) DO UPDATE SET key = ?3, made_ms = ?4",
  );
  const dropSiren = one("DELETE FROM sirens WHERE site = ? AND siren = ?");
  const sirenKey = one("SELECT key FROM sirens WHERE site = ? AND siren = ?");
  const orderFrom = (text: unknown) => JSON.parse(text as string) as string[];
  return {
    contacts: () =>
      contacts.all().map(([id, body]) => ({ id: id as string, ...(JSON.parse(body as string) as ContactText) })),
    putContact: ({ id, ...body }) => void putContact.run(id, JSON.stringify(body)),
    removeContact(id) {
      db.together(() => {
        dropContact.run(id);
        dropPushes.run(id);
        waysForgotten.run(id);
        giveUp.run(id, "the contact was removed", null);
        for (const [site, text] of orders.all()) {
          const left = orderFrom(text).filter((contact) => contact !== id);
          putOrder.run(site as string, JSON.stringify(left));
        }
      });
    },
    pushes: () =>
      pushes
        .all()
        .map(
          ([id, contact, endpoint, p256dh, auth, device, madeMs]) =>
            ({ id, contact, endpoint, keys: { p256dh, auth }, device, madeMs }) as KeptPush,
        ),
    putPush({ id, contact, endpoint, keys, device, madeMs }) {
      db.together(() => {
        const before = this.pushes().find((push) => push.id === id);
        if (before !== undefined && before.contact !== contact) {
          giveUp.run(before.contact, "this browser rings for somebody else now", id);
          wayWorks.run(before.contact, id);
        }
        putPush.run(id, contact, endpoint, keys.p256dh, keys.auth, device, madeMs);
        wayWorks.run(contact, id);
      });
    },
    removePush(id) {
      db.together(() => {
        const push = this.pushes().find((one) => one.id === id);
        if (push === undefined) return;
        dropPush.run(id);
        wayWorks.run(push.contact, id);
        giveUp.run(push.contact, "this browser rings no more", id);
      });
    },
    order: (site) => orderFrom(order.get(site)?.[0] ?? "[]"),
    putOrder: (site, wanted) => void putOrder.run(site, JSON.stringify(wanted)),
    failing: () =>
      failing
        .all()
        .map(
          ([contact, way, sinceMs, times, lastError]) => ({ contact, way, sinceMs, times, lastError }) as FailingWay,
        ),
    wayFailed: (contact, way, why, atMs) => void wayFailed.run(contact, way, atMs, why),
    wayWorks: (contact, way) => void wayWorks.run(contact, way),
    sirens: (site) =>
      sirens
        .all(site)
        .map(([siren, key, madeMs]) => ({ siren: siren as string, key: key as string, madeMs: madeMs as number })),
    putSiren: (site, siren, key, madeMs) => void putSiren.run(site, siren, key, madeMs),
    removeSiren: (site, siren) => dropSiren.run(site, siren).changes > 0,
    sirenKey: (site, siren) => (sirenKey.get(site, siren)?.[0] as string | undefined) ?? null,
  };
}
