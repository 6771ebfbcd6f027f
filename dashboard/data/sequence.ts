// Follows the numbering of the stream, so that a lost, repeated or foreign event is seen for what it is.

export interface Place {
  readonly startId: string;
  readonly sequence: number;
}

/** `{startId}-{sequence}`; the start id may itself hold hyphens. null if it is none. */
export function placeFrom(id: string | null): Place | null {
  const match = id === null ? null : /^(.+)-(\d{1,15})$/.exec(id);
  return match === null ? null : { startId: match[1] ?? "", sequence: Number(match[2]) };
}

/**
 * take: apply it. skip: already applied. gap: apply it, and fetch the board anew since something between was not seen.
 * restart: another start of the server, or no snapshot yet: only a snapshot can be applied.
 */
export type Step = "take" | "skip" | "gap" | "restart";

export function stepOf(known: Place | null, place: Place | null, event: string): Step {
  if (event === "snapshot") return "take";
  // A beat may go unnumbered: it says only that the server lives.
  if (place === null) return known === null ? "restart" : "take";
  if (known === null || known.startId !== place.startId) return "restart";
  if (place.sequence <= known.sequence) return "skip";
  return place.sequence === known.sequence + 1 ? "take" : "gap";
}
