// Messages on their way to a broker elsewhere: the latest per topic of those that are kept there, all of the others.
export interface Letter {
  readonly topic: string;
  readonly body: string;
  readonly retain: boolean;
}

/** The broker does not let us write there: the letter will not get out by trying again. */
export class NotAllowed extends Error {}

export interface Outbox {
  put(letter: Letter): void;
  waiting(): number;
  /** Topics that the broker lately did not let us write. */
  barred(): readonly string[];
  /** The line was cut right after this topic went out: MQTT 3.1.1 has no other way to say no. */
  cutAfter(topic: string): void;
  /** Sends what waits, one at a time, as long as `send` resolves; a second call joins the first. */
  flush(): Promise<void>;
  /** Everything retained goes out once more: a broker may have lost what it kept. */
  again(): void;
}

/** Of messages that are not kept this many wait at most; the oldest go first. */
const MOST_PASSING = 1000;
/** A topic that may not be written is tried again after this time: some brokers cut the line each time. */
const BARRED_MS = 600_000;
/** Lines are cut for many reasons; so often in a row after one topic, it is the topic. */
const MOST_CUTS = 3;

/**
 * `send` resolves when the broker has acknowledged, and rejects when it cannot: with `NotAllowed` if it never will.
 * `dropped` is told of what was lost.
 */
export function createOutbox(
  send: (letter: Letter) => Promise<void>,
  dropped: (letter: Letter) => void,
  steadyMs: () => number = () => performance.now(),
): Outbox {
  const barredUntilMs = new Map<string, number>();
  let cuts: { readonly topic: string; readonly count: number } | null = null;
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
  /** What it says of the topic later goes out again then; the letters behind it go out now. */
  const bar = (letter: Letter) => {
    barredUntilMs.set(letter.topic, steadyMs() + BARRED_MS);
    sent(letter);
    due.delete(letter.topic);
    dropped(letter);
  };
  const isBarred = (topic: string): boolean => {
    const untilMs = barredUntilMs.get(topic);
    if (untilMs === undefined) return false;
    if (steadyMs() < untilMs) return true;
    barredUntilMs.delete(topic);
    if (kept.has(topic)) due.add(topic);
    return false;
  };
  const sendAll = async () => {
    for (let letter = next(); letter !== null; letter = next()) {
      try {
        await send(letter);
      } catch (error) {
        if (!(error instanceof NotAllowed)) return;
        bar(letter);
        continue;
      }
      sent(letter);
    }
  };
  return {
    put(letter) {
      if (letter.retain) {
        kept.set(letter.topic, letter);
        if (!isBarred(letter.topic)) due.add(letter.topic);
        return;
      }
      if (isBarred(letter.topic)) return dropped(letter);
      passing.push(letter);
      if (passing.length > MOST_PASSING) dropped(passing.shift() as Letter);
    },
    waiting: () => due.size + passing.length,
    cutAfter(topic) {
      cuts = { topic, count: cuts?.topic === topic ? cuts.count + 1 : 1 };
      if (cuts.count < MOST_CUTS) return;
      cuts = null;
      barredUntilMs.set(topic, steadyMs() + BARRED_MS);
      due.delete(topic);
    },
    barred: () => [...barredUntilMs.keys()].filter(isBarred),
    flush() {
      sending ??= sendAll().finally(() => {
        sending = null;
      });
      return sending;
    },
    again() {
      for (const topic of kept.keys()) if (!isBarred(topic)) due.add(topic);
    },
  };
}
