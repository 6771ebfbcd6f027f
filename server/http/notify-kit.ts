// What the routes of telling people share.
import type { FastifyRequest } from "fastify";
import type { NotifyDesk, Owner } from "./notify-port.ts";
import { Refused } from "./refused.ts";

export function notifyDesk(notify: NotifyDesk | null): NotifyDesk {
  if (notify !== null) return notify;
  throw new Refused(503, "This server tells nobody.");
}

/** Whoever asks, as a person who can have a contact of their own. */
export function ownerOf({ who, known }: FastifyRequest): Owner {
  const why = "Only people who have signed in have a contact of their own.";
  if (who?.kind === "open") throw new Refused(409, why);
  if (who === null || who.kind === "link" || known === null) throw new Refused(403, why);
  return { person: known.id, name: who.name ?? known.id, sites: who.sites };
}
