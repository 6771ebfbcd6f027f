// Messages on their way to a broker elsewhere: the latest per topic of those that are kept there, all of the others.
export interface Letter {
  readonly topic: string;
  readonly body: string;
  readonly retain: boolean;
}

export interface Outbox {
  put(letter: Letter): void;
  waiting(): number;
  /** Sends what waits, one at a time, as long as `send` resolves; a second call joins the first. */
  flush(): Promise<void>;
  /** Everything retained goes out once more: a broker may have lost what it kept. */
  again(): void;
}

/** Of messages that are not kept this many wait at most; the oldest go first. */
const MOST_PASSING = 1000;

/** `send` resolves when the broker has acknowledged and rejects when it cannot. `dropped` is told of what was lost. */
export function createOutbox(send: (letter: Letter) => Promise<void>, dropped: (letter: Letter) => void): Outbox {
  const kept = new Map<string, Letter>();
  const due = new Set<string>();
  const passing: Letter[] = [];
  let sending: Promise<void> | null = null;

  const next = (): Letter | null => {
    const [first] = passing;
    if (first !== undefined) return first;
    const [topic] = due;
    return topic === undefined ? null : (kept.get(topic) ?? null);
  };
  const sent = (letter: Letter) => {
    // The oldest may have been dropped while it was under way.
    if (!letter.retain) passing.splice(0, passing[0] === letter ? 1 : 0);
    // A later one that came meanwhile is still due.
    else if (kept.get(letter.topic) === letter) due.delete(letter.topic);
  };
  const sendAll = async () => {
    for (let letter = next(); letter !== null; letter = next()) {
      try {
        await send(letter);
      } catch {
        return;
      }
      sent(letter);
    }
  };
  return {
    put(letter) {
      if (letter.retain) {
        kept.set(letter.topic, letter);
        due.add(letter.topic);
        return;
      }
      passing.push(letter);
      if (passing.length > MOST_PASSING) dropped(passing.shift() as Letter);
    },
    waiting: () => due.size + passing.length,
    flush() {
      sending ??= sendAll().finally(() => {
        sending = null;
      });
      return sending;
    },
    again() {
      for (const topic of kept.keys()) due.add(topic);
    },
  };
}
