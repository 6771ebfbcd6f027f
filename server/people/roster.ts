// The people of the house: the list, their roles and sites, and taking one away.
import type { PersonBody, PersonChangeBody, ResetMadeBody } from "#contract/access.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import { type Answer, good, refuse } from "./answer.ts";
import type { PeopleOffice } from "./office.ts";
import type { PersonRow } from "./ports.ts";
import { resetCode } from "./tickets.ts";

const NOBODY = "no such person";
const LAST_OWNER = "is the only owner: make another one first";

export function createRoster({ store, nowMs }: PeopleOffice) {
  const lastSeen = (person: string): number | null => {
    const seen = store.sessions().flatMap((one) => (one.person === person ? [one.seenMs] : []));
    return seen.length > 0 ? Math.max(...seen) : null;
  };
  const bodyOf = ({ id, name, role, sites, madeMs }: PersonRow): PersonBody => ({
    ...{ id, name, role, sites: sites === null ? null : [...sites] },
    madeAt: isoFromMs(madeMs),
    seenAt: isoOrNull(lastSeen(id)),
  });
  const isLastOwner = ({ id, role }: PersonRow) =>
    role === "owner" && !store.people().some((other) => other.role === "owner" && other.id !== id);

  return {
    people: (): PersonBody[] => store.people().map(bodyOf),

    changePerson(id: string, change: PersonChangeBody): Answer<PersonBody> {
      const person = store.person(id);
      if (person === null) return refuse("missing", "/person", NOBODY);
      const { role = person.role, sites = person.sites } = change;
      if (role !== "owner" && isLastOwner(person)) return refuse("conflict", "/role", LAST_OWNER);
      if (role === "owner" && sites !== null) return refuse("invalid", "/sites", "an owner is bound to no site");
      store.together(() => store.changePerson(id, role, sites));
      return good(bodyOf({ ...person, role, sites }));
    },

    removePerson(id: string): Answer<null> {
      const person = store.person(id);
      if (person === null) return refuse("missing", "/person", NOBODY);
      if (isLastOwner(person)) return refuse("conflict", "/person", LAST_OWNER);
      store.together(() => {
        store.endSessions({ person: id }, null, nowMs());
        store.dropTickets("reset", id, nowMs());
        store.removePerson(id, nowMs());
      });
      return good(null);
    },

    makeReset(id: string, by: string | null): Answer<ResetMadeBody> {
      const person = store.person(id);
      return person === null ? refuse("missing", "/person", NOBODY) : good(resetCode(store, person, by, nowMs()));
    },
  };
}
