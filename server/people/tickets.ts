// What lets somebody in once: the first owner's code, invitations, and ways back for a forgotten password.
import type {
  InvitationBody,
  InvitationMadeBody,
  InvitationWishBody,
  OfferBody,
  ResetMadeBody,
} from "#contract/access.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { type Answer, good, refuse } from "./answer.ts";
import type { PeopleStore, TicketRow } from "./ports.ts";
import { hashOf, nameKey, newCode, newId, newToken } from "./secrets.ts";

const DAY_MS = 86_400_000;
const INVITED_DAYS = 7;
const FIRST_OWNER_MS = DAY_MS;
const RESET_MS = DAY_MS;
const EMPTY = { role: null, sites: null, person: null, note: null, by: null } as const;

const bodyOf = ({ id, role, sites, note, by, madeMs, expiresMs }: TicketRow): InvitationBody => ({
  id,
  role: role ?? "client",
  sites: sites === null ? null : [...sites],
  note,
  by,
  madeAt: isoFromMs(madeMs),
  expiresAt: isoFromMs(expiresMs),
});

/** The code that makes the first owner; null when there is one. Any earlier code ends. */
export function firstOwnerCode(store: PeopleStore, nowMs: number): string | null {
  if (store.people().some(({ role }) => role === "owner")) return null;
  const code = newCode();
  store.together(() => {
    store.dropTickets("first-owner", null, nowMs);
    store.addTicket(hashOf(code), {
      ...{ ...EMPTY, id: newId("t"), kind: "first-owner", role: "owner", madeMs: nowMs },
      expiresMs: nowMs + FIRST_OWNER_MS,
    });
  });
  return code;
}

/** A code with which the person of that name sets a new password. Any earlier one ends; the old password stands until then. */
export function resetCode(
  store: PeopleStore,
  person: { readonly id: string },
  by: string | null,
  nowMs: number,
): ResetMadeBody {
  const token = newCode();
  const expiresMs = nowMs + RESET_MS;
  store.together(() => {
    store.dropTickets("reset", person.id, nowMs);
    store.addTicket(hashOf(token), {
      ...EMPTY,
      id: newId("t"),
      kind: "reset",
      person: person.id,
      by,
      madeMs: nowMs,
      expiresMs,
    });
  });
  return { token, path: `/reset#${token}`, expiresAt: isoFromMs(expiresMs) };
}

/** The same by name, for the command on the box; null when nobody has it. */
export function resetByName(store: PeopleStore, name: string, nowMs: number): ResetMadeBody | null {
  const person = store.personNamed(nameKey(name));
  return person === null ? null : resetCode(store, person, null, nowMs);
}

export function createTickets({ store, nowMs }: { readonly store: PeopleStore; readonly nowMs: () => number }) {
  /** One of that kind that still stands. */
  const standing = (secret: string, kind: TicketRow["kind"]): TicketRow | null => {
    const ticket = store.ticket(hashOf(secret));
    return ticket?.kind === kind && ticket.expiresMs > nowMs() ? ticket : null;
  };
  return {
    standing,

    offer(token: string): Answer<OfferBody> {
      const ticket = standing(token, "invitation");
      if (ticket === null) return refuse("missing", "/token", "this invitation was used, taken back, or is too old");
      const { role, sites, expiresAt } = bodyOf(ticket);
      return good({ role, sites, expiresAt });
    },

    invitations: (): InvitationBody[] =>
      store
        .tickets("invitation")
        .filter(({ expiresMs }) => expiresMs > nowMs())
        .map(bodyOf),

    invite(
      { role, sites, note, days = INVITED_DAYS }: InvitationWishBody,
      by: string | null,
    ): Answer<InvitationMadeBody> {
      if (role === "owner" && sites !== null) return refuse("invalid", "/sites", "an owner is bound to no site");
      const token = newToken();
      const ticket: TicketRow = {
        ...{ ...EMPTY, id: newId("t"), kind: "invitation", role, sites, note: note ?? null, by, madeMs: nowMs() },
        expiresMs: nowMs() + days * DAY_MS,
      };
      store.together(() => store.addTicket(hashOf(token), ticket));
      return good({ ...bodyOf(ticket), token, path: `/invite#${token}` });
    },

    withdrawInvitation(id: string): Answer<null> {
      const known = store.tickets("invitation").some((ticket) => ticket.id === id);
      return known && store.useTicket(id, nowMs())
        ? good(null)
        : refuse("missing", "/invitation", "no such invitation, or it was used");
    },
  };
}
