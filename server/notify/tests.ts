// The test button: to every way of a contact at once, with what came of each.
import type { TestedBody } from "#contract/notify.ts";
import { type Answer, good, refuse } from "./answer.ts";
import { letterOf } from "./letters.ts";
import type { KeptContact, NewDelivery, NotifyStore, Sent, SiteFacts } from "./ports.ts";
import type { WaysOf } from "./ways.ts";
import { wordsOf } from "./words.ts";

interface TestsParts {
  readonly store: NotifyStore;
  readonly now: () => number;
  readonly sites: () => readonly SiteFacts[];
  readonly contact: (id: string) => KeptContact | null;
  readonly waysOf: WaysOf;
}

export function createTests({ store, now, sites, contact: find, waysOf }: TestsParts) {
  return {
    async test(id: string): Promise<Answer<TestedBody>> {
      const contact = find(id);
      if (contact === null) return refuse("missing", "/contact", `no contact "${id}"`);
      const ways = waysOf(contact, store.pushes());
      if (ways.length === 0) return refuse("conflict", "/", "this contact has no way to be told");
      const nowMs = now();
      const { title, body } = wordsOf(contact.language).test;
      const site = contact.sites?.[0]?.site ?? sites()[0]?.id ?? "none";
      const results = ways.map(async ({ id: way, kind, label, send }) => {
        const row: NewDelivery = {
          ...{ key: `test/${contact.id}/${way}/${nowMs}`, kind: "test", site, alarm: null, step: null, level: "wake" },
          ...{
            contact: contact.id,
            way,
            madeMs: nowMs,
            notBeforeMs: nowMs,
            title,
            body: body(contact.name),
            about: null,
          },
        };
        const asked = { ...row, seq: 0, state: "queued", tries: 0, nextTryMs: nowMs, sentMs: null } as const;
        const letter = letterOf([{ ...asked, lastError: null, repliedMs: null }], contact, site, () => "");
        const sent: Sent = await send(letter);
        store.together(() => {
          store.add([row]);
          const seq = store.seqOf(row.key);
          if (seq === null) return;
          if (sent.ok) {
            store.sent([seq], now());
            store.wayWorks(contact.id, way);
          } else {
            store.failed([seq], sent.why, null);
            if (sent.gone === true) store.removePush(way);
            store.wayFailed(contact.id, way, sent.why, now());
          }
        });
        return { way, kind, label, ok: sent.ok, detail: sent.ok ? null : sent.why };
      });
      return good({ results: await Promise.all(results) });
    },
  };
}
