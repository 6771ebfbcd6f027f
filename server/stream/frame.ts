// One event as it goes over the line, and which events may stand in for earlier ones.
import { zoneOfEvent } from "#contract/border.ts";
import { type StreamBody, type StreamEvent, streamId } from "#contract/stream.ts";

/** Events that a server publishes; `snapshot` and `beat` are the stream's own. */
export type PublishedEvent = Exclude<StreamEvent, "snapshot" | "beat">;

export interface Frame {
  readonly sequence: number;
  /** Frames of one key: only the latest matters to somebody who has fallen behind. null = every one matters. */
  readonly latestOf: string | null;
  /** The zone that it speaks of; null = the whole site. */
  readonly zone: string | null;
  readonly text: string;
}

/** A call, an entry, an alarm: each is told, however slow the listener. */
const EVERY_ONE: readonly StreamEvent[] = ["call", "journal", "alarm"];

export function frameOf<E extends StreamEvent>(
  startId: string,
  sequence: number,
  event: E,
  key: string,
  body: StreamBody<E>,
  write: (body: StreamBody<E>) => string = JSON.stringify,
): Frame {
  return {
    sequence,
    latestOf: EVERY_ONE.includes(event) ? null : `${event}/${key}`,
    zone: zoneOfEvent(event, body),
    text: `id: ${streamId(startId, sequence)}\nevent: ${event}\ndata: ${write(body)}\n\n`,
  };
}

/** Carries no id: it is no change, and somebody who comes back asks for what followed the last change. */
export function beatText(body: StreamBody<"beat">): string {
  return `event: beat\ndata: ${JSON.stringify(body)}\n\n`;
}

/** The sequence that an id of this run of the server names; null for any other text. */
export function sequenceOf(startId: string, id: string): number | null {
  const digits = id.startsWith(`${startId}-`) ? id.slice(startId.length + 1) : "";
  return /^\d{1,15}$/.test(digits) ? Number(digits) : null;
}
