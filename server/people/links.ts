// Read-only links for an inspector or a client: to one site or zone, until they end or are withdrawn.
import type { LinkBody, LinkMadeBody, LinkWishBody } from "#contract/access.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import { type Answer, good, mustWait, refuse } from "./answer.ts";
import type { Caller, PeopleOffice, Signed } from "./office.ts";
import type { LinkRow } from "./ports.ts";
import { hashOf, newId, newToken } from "./secrets.ts";
import { type createSessions, linkStands } from "./sessions.ts";

const DAY_MS = 86_400_000;
const USUAL_DAYS = 60;

const bodyOf = ({ id, role, site, zone, label, by, madeMs, expiresMs, seenMs }: LinkRow): LinkBody => ({
  ...{ id, role, site, zone, label, by },
  madeAt: isoFromMs(madeMs),
  expiresAt: isoOrNull(expiresMs),
  seenAt: isoOrNull(seenMs),
});

export function createLinks({ store, nowMs, throttle }: PeopleOffice, sessions: ReturnType<typeof createSessions>) {
  return {
    links: (): LinkBody[] =>
      store
        .links()
        .filter((link) => linkStands(link, nowMs()))
        .map(bodyOf),

    makeLink({ role, site, zone, label, days = USUAL_DAYS }: LinkWishBody, by: string | null): LinkMadeBody {
      const token = newToken();
      const link: LinkRow = {
        ...{ id: newId("l"), role, site, zone, label, by, madeMs: nowMs(), seenMs: null },
        expiresMs: days === null ? null : nowMs() + days * DAY_MS,
      };
      store.together(() => store.addLink(hashOf(token), link));
      return { ...bodyOf(link), token, path: `/link#${token}` };
    },

    /** Whoever came by it is out at once. */
    withdrawLink(id: string): Answer<null> {
      const gone = store.together(() => {
        store.endSessions({ link: id }, null, nowMs());
        return store.withdrawLink(id, nowMs());
      });
      return gone ? good(null) : refuse("missing", "/link", "no such link, or it was withdrawn");
    },

    openLink(token: string, caller: Caller): Answer<Signed> {
      const tried = { name: null, address: caller.address, device: null };
      const waitMs = throttle.begin(tried);
      if (waitMs > 0) return mustWait(waitMs);
      const link = store.linkOf(hashOf(token));
      if (link === null || !linkStands(link, nowMs()))
        return refuse("missing", "/token", "this link was withdrawn or has ended");
      throttle.passed(tried);
      store.linkSeen(link.id, nowMs());
      return good(sessions.open({ link: link.id }, caller));
    },
  };
}
