// People and who may come in: everything that the door asks about them.
import type { AuditLineBody } from "#contract/access.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { createHashing, type HashBudget } from "./hashing.ts";
import { createLinks } from "./links.ts";
import type { PeopleOffice } from "./office.ts";
import type { AuditQuery, AuditRow, PeopleStore } from "./ports.ts";
import { createRoster } from "./roster.ts";
import { newToken } from "./secrets.ts";
import { createSessions } from "./sessions.ts";
import { createSignIn } from "./sign-in.ts";
import { createThrottle } from "./throttle.ts";
import { createTickets, firstOwnerCode } from "./tickets.ts";

export interface PeopleParts {
  readonly store: PeopleStore;
  readonly mode: "on" | "off";
  readonly nowMs: () => number;
  readonly steadyMs: () => number;
  readonly siteNames: () => readonly string[];
  readonly budget?: HashBudget;
}

export function createPeople({ store, mode, nowMs, steadyMs, siteNames, budget }: PeopleParts) {
  const office: PeopleOffice = {
    ...{ store, nowMs, siteNames },
    hashing: createHashing(steadyMs, budget),
    throttle: createThrottle(nowMs, newToken()),
  };
  const sessions = createSessions(office);
  const tickets = createTickets(office);
  const { standing: _, ...invitations } = tickets;
  return {
    mode,
    needsFirstOwner: () => !store.people().some(({ role }) => role === "owner"),
    firstOwnerCode: () => firstOwnerCode(store, nowMs()),
    ...sessions,
    ...invitations,
    ...createSignIn(office, sessions, tickets),
    ...createLinks(office, sessions),
    ...createRoster(office),

    note: (row: Omit<AuditRow, "atMs">) => store.note({ ...row, atMs: nowMs() }),
    audit: (query: AuditQuery): AuditLineBody[] =>
      store.audit(query).map(({ atMs, ...line }) => ({ ...line, at: isoFromMs(atMs) })),
  };
}
export type People = ReturnType<typeof createPeople>;
