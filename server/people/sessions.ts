// Sessions: who holds which, how long they last, and ending them.
import type { SessionBody, Who } from "#contract/access.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { type Answer, good, refuse } from "./answer.ts";
import type { Caller, Known, PeopleOffice, Signed } from "./office.ts";
import type { LinkRow, PersonRow, SessionRow } from "./ports.ts";
import { hashOf, newId, newToken } from "./secrets.ts";

const DAY_MS = 86_400_000;
/** A crew phone that lies in the truck over a week of other work is still signed in; one that was lost long ago is not. */
const IDLE_MS = 14 * DAY_MS;
const LONGEST_MS = 90 * DAY_MS;
/** Ended ones are kept so long: they tell known devices from strangers. */
const KEPT_MS = 200 * DAY_MS;
/** Being seen is written this often at most: a board asks all day, and memory cards wear. */
const SEEN_EVERY_MS = 5 * 60_000;

const ofPerson = ({ name, role, sites }: PersonRow): Who => ({
  kind: "person",
  name,
  role,
  sites: sites === null ? null : [...sites],
  zone: null,
});
const ofLink = ({ label, role, site, zone }: LinkRow): Who => ({
  kind: "link",
  name: label,
  role,
  sites: [site],
  zone,
});

export function linkStands(link: LinkRow, nowMs: number): boolean {
  return link.expiresMs === null || link.expiresMs > nowMs;
}

export function createSessions({ store, nowMs }: PeopleOffice) {
  const stands = ({ madeMs, seenMs }: SessionRow) => nowMs() - seenMs < IDLE_MS && nowMs() - madeMs < LONGEST_MS;

  const whose = (session: SessionRow): { readonly who: Who; readonly id: string } | null => {
    if (!stands(session)) return null;
    if (session.person !== null) {
      const person = store.person(session.person);
      return person === null ? null : { who: ofPerson(person), id: person.id };
    }
    const link = store.link(session.link ?? "");
    return link === null || !linkStands(link, nowMs()) ? null : { who: ofLink(link), id: link.id };
  };

  const open = (of: { readonly person: string } | { readonly link: string }, caller: Caller): Signed => {
    const token = newToken();
    const device = caller.device ?? newToken();
    const row: SessionRow = {
      ...{ id: newId("s"), person: null, link: null, ...of },
      agent: caller.agent.slice(0, 300),
      address: caller.address,
      madeMs: nowMs(),
      seenMs: nowMs(),
    };
    store.together(() => {
      store.forget(nowMs() - KEPT_MS);
      store.addSession(hashOf(token), hashOf(device), row);
    });
    const found = whose(row);
    if (found === null) throw new Error("a session was opened for nobody");
    return { who: found.who, token, device };
  };

  const bodyOf = (session: SessionRow, own: string | null): SessionBody[] => {
    const found = whose(session);
    if (found === null) return [];
    const { id, agent, address, madeMs, seenMs } = session;
    return [
      {
        id,
        kind: session.person === null ? "link" : "person",
        name: found.who.name ?? "",
        role: found.who.role,
        device: agent,
        address,
        madeAt: isoFromMs(madeMs),
        seenAt: isoFromMs(seenMs),
        own: id === own,
      },
    ];
  };

  return {
    open,

    /** Whose a token is; null for one that never was, has ended, or is too old. */
    whoIs(token: string, address: string): Known | null {
      const session = store.session(hashOf(token));
      const found = session === null ? null : whose(session);
      if (session === null || found === null) return null;
      if (nowMs() - session.seenMs > SEEN_EVERY_MS) {
        store.seen(session.id, nowMs(), address);
        if (session.link !== null) store.linkSeen(session.link, nowMs());
      }
      return { ...found, session: session.id };
    },

    /** Of everybody, or of the one who asks. */
    sessions(own: Known | null, all: boolean): SessionBody[] {
      return store
        .sessions()
        .filter(({ person, link }) => all || (person ?? link) === own?.id)
        .flatMap((session) => bodyOf(session, own?.session ?? null));
    },

    endSession(id: string, by: Known | null, all: boolean): Answer<null> {
      const session = store.sessions().find((one) => one.id === id);
      const isOwn = session !== undefined && (session.person ?? session.link) === by?.id;
      if (session === undefined || !(all || isOwn)) return refuse("missing", "/session", "no such session");
      store.endSession(id, nowMs());
      return good(null);
    },

    signOut(session: string): void {
      store.endSession(session, nowMs());
    },
  };
}
