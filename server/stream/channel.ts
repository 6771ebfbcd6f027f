// The changes of one site, numbered, with the last of them kept for those who come back.
import type { StreamBody } from "#contract/stream.ts";
import { type Frame, frameOf, type PublishedEvent, sequenceOf } from "./frame.ts";
import type { Listener } from "./listener.ts";

export interface Channel {
  readonly listeners: Set<Listener>;
  publish<E extends PublishedEvent>(event: E, key: string, body: StreamBody<E>): void;
  sequence(): number;
  /** What followed the change with this id; null when that is no longer known. */
  since(lastEventId: string): readonly Frame[] | null;
}

/** `keep`: how many changes are kept. */
export function createChannel(startId: string, keep: number): Channel {
  const kept: Frame[] = [];
  const listeners = new Set<Listener>();
  let sequence = 0;
  return {
    listeners,
    publish(event, key, body) {
      sequence += 1;
      const frame = frameOf(startId, sequence, event, key, body);
      kept.push(frame);
      if (kept.length > keep) kept.shift();
      for (const listener of listeners) listener.send(frame);
    },
    sequence: () => sequence,
    since(lastEventId) {
      const last = sequenceOf(startId, lastEventId);
      if (last === null || last > sequence) return null;
      // Kept frames follow one another without a gap up to the present sequence.
      const missed = sequence - last;
      return missed > kept.length ? null : kept.slice(kept.length - missed);
    },
  };
}
