// One client of a stream: writes while the line takes it, and keeps what matters while it does not.
import type { ServerResponse } from "node:http";
import type { Frame } from "./frame.ts";

/** What a listener that lags may hold back of events that cannot stand in for one another. */
export interface ListenerLimits {
  readonly maxWaiting: number;
  /** Beats in a row that find the line blocked before it is taken for dead. */
  readonly maxBlockedBeats: number;
}

export interface Listener {
  send(frame: Frame): void;
  /** Sends the beat if the line is free. */
  beat(text: string): void;
  end(): void;
}

/**
 * `onGivenUp`: the listener lagged so far that it is cut off; it comes back by itself and begins with a snapshot.
 * `onCoalesced`: a frame that waited was replaced by a later one of its key.
 */
export function createListener(
  raw: ServerResponse,
  limits: ListenerLimits,
  on: { coalesced(): void; givenUp(): void },
): Listener {
  // In order of sequence, since a replaced frame leaves its place and its successor enters at the end.
  const waiting = new Map<string, Frame>();
  let everyOneWaiting = 0;
  let blocked = false;
  let blockedBeats = 0;
  let over = false;

  const write = (text: string) => {
    blocked = !raw.write(text);
  };
  const giveUp = () => {
    over = true;
    on.givenUp();
    raw.destroy();
  };
  // A line that breaks while it is written to says so here, and then closes.
  raw.on("error", () => raw.destroy());
  raw.on("drain", () => {
    blocked = false;
    blockedBeats = 0;
    for (const [key, frame] of waiting) {
      waiting.delete(key);
      if (frame.latestOf === null) everyOneWaiting -= 1;
      write(frame.text);
      if (blocked) return;
    }
  });

  return {
    send(frame) {
      if (over) return;
      if (!blocked) return write(frame.text);
      const key = frame.latestOf ?? `#${frame.sequence}`;
      if (waiting.delete(key)) on.coalesced();
      waiting.set(key, frame);
      if (frame.latestOf === null) everyOneWaiting += 1;
      if (everyOneWaiting > limits.maxWaiting) giveUp();
    },
    beat(text) {
      if (over) return;
      if (!blocked) return write(text);
      blockedBeats += 1;
      if (blockedBeats > limits.maxBlockedBeats) giveUp();
    },
    end() {
      // What waits behind a blocked line would hold the server up; its listener comes back to the next one.
      if (blocked) raw.destroy();
      else raw.end();
    },
  };
}

/** Hears of one zone only, and of the journal's entries for the whole site nothing either. */
export function boundTo(listener: Listener, zone: string): Listener {
  return { ...listener, send: (frame) => (frame.zone === zone ? listener.send(frame) : undefined) };
}
