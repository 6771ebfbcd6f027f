// The ways in: name and password, the first owner's code, an invitation, and a way back for a forgotten password.
import type { AcceptBody, FirstOwnerBody, PasswordChangeBody, ResetBody, SignInBody } from "#contract/access.ts";
import { type Answer, good, mustWait, refuse } from "./answer.ts";
import type { Caller, Known, PeopleOffice, Signed } from "./office.ts";
import { passwordFault } from "./password-rules.ts";
import type { PersonRow, TicketRow } from "./ports.ts";
import { hashOf, nameKey, newId } from "./secrets.ts";
import type { createSessions } from "./sessions.ts";
import type { createTickets } from "./tickets.ts";

/** What to wait when the machine has hashed enough for now, ms. */
const BUSY_MS = 5000;
const TAKEN = "somebody here has this name already: add a surname";

export function createSignIn(
  office: PeopleOffice,
  sessions: ReturnType<typeof createSessions>,
  tickets: ReturnType<typeof createTickets>,
) {
  const { store, nowMs, hashing, throttle, siteNames } = office;
  const weak = (password: string, name: string) => {
    const fault = passwordFault(password, [name, ...siteNames()]);
    return fault === null ? null : refuse("invalid", "/password", fault);
  };

  /** Looks a code up, no faster than codes may be tried from one place. */
  const ticketFor = (secret: string, kind: TicketRow["kind"], field: string, caller: Caller): Answer<TicketRow> => {
    const tried = { name: null, address: caller.address, device: null };
    const waitMs = throttle.begin(tried);
    if (waitMs > 0) return mustWait(waitMs);
    const ticket = tickets.standing(secret, kind);
    if (ticket === null) return refuse("missing", field, "was used, taken back, or is too old");
    throttle.passed(tried);
    return good(ticket);
  };

  /** Hashes, and then lets `keep` write in one go with using the ticket up; somebody else may have been faster. */
  const useFor = async <T>(ticket: TicketRow, field: string, password: string, keep: (hash: string) => T) => {
    if (!hashing.take("known")) return mustWait(BUSY_MS);
    const hash = await hashing.hash(password);
    return store.together(() =>
      store.useTicket(ticket.id, nowMs()) ? good(keep(hash)) : refuse("missing", field, "was used just now"),
    );
  };

  const join = async (
    { name, password }: { readonly name: string; readonly password: string },
    ticket: TicketRow,
    field: string,
    caller: Caller,
  ): Promise<Answer<Signed>> => {
    const key = nameKey(name);
    if (store.personNamed(key) !== null) return refuse("conflict", "/name", TAKEN);
    const fault = weak(password, name);
    if (fault !== null) return fault;
    const made = await useFor(ticket, field, password, (hash): PersonRow | null => {
      if (store.personNamed(key) !== null) return null;
      const person: PersonRow = {
        ...{ id: newId("p"), name: name.normalize("NFKC").replace(/\s+/g, " ").trim(), nameKey: key },
        ...{ role: ticket.role ?? "client", sites: ticket.sites, password: hash, madeMs: nowMs() },
      };
      store.addPerson(person);
      return person;
    });
    if (!made.ok) return made;
    return made.value === null
      ? refuse("conflict", "/name", TAKEN)
      : good(sessions.open({ person: made.value.id }, caller));
  };

  return {
    async signIn({ name, password }: SignInBody, caller: Caller): Promise<Answer<Signed>> {
      const key = nameKey(name);
      const person = store.personNamed(key);
      const device = caller.device === null ? null : hashOf(caller.device);
      const known = person !== null && device !== null && store.knowsDevice(person.id, device);
      const tried = { name: key, address: caller.address, device: known ? device : null };
      const waitMs = throttle.begin(tried);
      if (waitMs > 0) return mustWait(waitMs);
      const right = await hashing.verify(person?.password ?? null, password, known ? "known" : "stranger");
      if (right === "busy") {
        throttle.untried(tried);
        return mustWait(BUSY_MS);
      }
      if (person === null || !right) return refuse("unknown", "/password", "name and password do not belong together");
      throttle.passed(tried);
      return good(sessions.open({ person: person.id }, caller));
    },

    async firstOwner({ code, ...owner }: FirstOwnerBody, caller: Caller): Promise<Answer<Signed>> {
      const ticket = ticketFor(code, "first-owner", "/code", caller);
      return ticket.ok ? join(owner, ticket.value, "/code", caller) : ticket;
    },

    async accept({ token, ...person }: AcceptBody, caller: Caller): Promise<Answer<Signed>> {
      const ticket = ticketFor(token, "invitation", "/token", caller);
      return ticket.ok ? join(person, ticket.value, "/token", caller) : ticket;
    },

    async reset({ token, password }: ResetBody, caller: Caller): Promise<Answer<Signed>> {
      const ticket = ticketFor(token, "reset", "/token", caller);
      if (!ticket.ok) return ticket;
      const person = store.person(ticket.value.person ?? "");
      if (person === null) return refuse("missing", "/token", "its person has gone");
      const fault = weak(password, person.name);
      if (fault !== null) return fault;
      const set = await useFor(ticket.value, "/token", password, (hash) => {
        store.setPassword(person.id, hash);
        // Whoever knew the old password, or holds a phone that was lost, is out.
        store.endSessions({ person: person.id }, null, nowMs());
      });
      return set.ok ? good(sessions.open({ person: person.id }, caller)) : set;
    },

    /** Ends every other session of the person. */
    async changePassword(by: Known, { current, password }: PasswordChangeBody, caller: Caller): Promise<Answer<null>> {
      const person = store.person(by.id);
      if (by.who.kind !== "person" || person === null) return refuse("conflict", "/", "a link has no password");
      const tried = { name: person.nameKey, address: caller.address, device: `session ${by.id}` };
      const waitMs = throttle.begin(tried);
      if (waitMs > 0) return mustWait(waitMs);
      const right = await hashing.verify(person.password, current, "known");
      if (right === "busy") {
        throttle.untried(tried);
        return mustWait(BUSY_MS);
      }
      if (!right) return refuse("invalid", "/current", "is not the password");
      throttle.passed(tried);
      const fault = weak(password, person.name);
      if (fault !== null) return fault;
      const hash = await hashing.hash(password);
      store.together(() => {
        store.setPassword(person.id, hash);
        store.dropTickets("reset", person.id, nowMs());
        store.endSessions({ person: person.id }, by.session, nowMs());
      });
      return good(null);
    },
  };
}
