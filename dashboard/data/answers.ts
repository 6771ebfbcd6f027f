// Answers to alarms on their way to the server: kept on this device and tried again until the server has taken them or said no.
import type { AlarmBody } from "#contract/alarm.ts";
import { ApiFailure } from "./api.ts";
import type { Keep } from "./keep.ts";
import { backoffMs } from "./backoff.ts";
import { type Signal, signalOf } from "./signal.ts";

export interface AlarmAnswer {
  readonly site: string;
  readonly alarm: string;
  readonly by: string | null;
  /** Null = acknowledged. */
  readonly untilAt: string | null;
  /** Who was signed in; it goes under no other name. Null = nobody had to. */
  readonly writer: string | null;
  /** The server said no, and why; null = on its way. */
  readonly refused: string | null;
  /** It was tried, and the server was out of reach. */
  readonly tried: boolean;
}

export interface AnswerPorts {
  send(answer: AlarmAnswer): Promise<AlarmBody>;
  taken(answer: AlarmAnswer, alarm: AlarmBody): void;
  /** Undefined = nobody can write. */
  writer(): string | null | undefined;
  /** The server has said in this visit who that is. */
  sure(): boolean;
  random(): number;
  later(run: () => void, ms: number): void;
}

export interface AnswerDesk {
  /** Those on their way and those refused, by alarm. */
  readonly signal: Signal<readonly AlarmAnswer[]>;
  give(answer: Pick<AlarmAnswer, "site" | "alarm" | "by" | "untilAt">): void;
  /** A refusal has been read. */
  putAway(alarm: string): void;
  /** Tries at once. */
  kick(): void;
  /** Another person is signed in here. */
  forget(): void;
}

/** Dropped with all that belongs to a person, when another one signs in. */
const KEY = "board.answers";

function keptFrom(raw: unknown): readonly AlarmAnswer[] {
  const fits = (one: Partial<AlarmAnswer> | null) => typeof one?.site === "string" && typeof one.alarm === "string";
  return Array.isArray(raw) ? (raw as AlarmAnswer[]).filter(fits) : [];
}

const without = (list: readonly AlarmAnswer[], alarm: string) => list.filter((one) => one.alarm !== alarm);

export function answerDesk(keep: Keep, ports: AnswerPorts): AnswerDesk {
  const signal = signalOf<readonly AlarmAnswer[]>(keptFrom(keep.read(KEY)));
  let busy = false;
  let failures = 0;
  const set = (list: readonly AlarmAnswer[]) => {
    keep.write(KEY, list);
    signal.set(list);
  };
  const mark = (answer: AlarmAnswer, change: Partial<AlarmAnswer>) =>
    set(signal.get().map((one) => (one === answer ? { ...one, ...change } : one)));

  async function sendOne(answer: AlarmAnswer): Promise<boolean> {
    try {
      const alarm = await ports.send(answer);
      set(signal.get().filter((one) => one !== answer));
      ports.taken(answer, alarm);
      return true;
    } catch (cause) {
      // Signed out for a moment is no refusal of the answer.
      const refused = cause instanceof ApiFailure && cause.kind === "refused" && cause.status !== 401;
      mark(answer, refused ? { refused: cause.message } : { tried: true });
      return refused;
    }
  }

  async function run(): Promise<void> {
    if (busy || !ports.sure()) return;
    busy = true;
    const writer = ports.writer();
    for (;;) {
      const next = signal.get().find((one) => one.refused === null && one.writer === writer);
      if (next === undefined) break;
      if (await sendOne(next)) {
        failures = 0;
        continue;
      }
      failures += 1;
      ports.later(() => void run(), backoffMs(failures - 1, ports.random()));
      break;
    }
    busy = false;
  }

  void run();
  return {
    signal,
    give(answer) {
      const writer = ports.writer();
      if (writer === undefined) return;
      // The last word of a person on an alarm counts.
      set([...without(signal.get(), answer.alarm), { ...answer, writer, refused: null, tried: false }]);
      void run();
    },
    putAway: (alarm) => set(without(signal.get(), alarm)),
    kick: () => void run(),
    // What was kept is gone with all else that belonged to the other one.
    forget: () => signal.set([]),
  };
}
