// The other end of `child.ts`, in the child: nothing that only the bench needs is loaded there.
export interface Question {
  readonly id: number;
  readonly name: string;
  readonly given: unknown;
}
export interface Answer {
  readonly id: number;
  readonly value?: unknown;
  readonly error?: string;
}

export const CPU = "cpu";
export const MEMORY = "memory";

/** Time that this process has spent computing so far, ms over all its threads. */
export function ownCpuMs(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** In the child: answers the questions of its parent, and ends with it. */
export function answer(answers: Readonly<Record<string, (given: never) => unknown>>): void {
  process.on("disconnect", () => process.exit(0));
  process.on("message", (message) => {
    const { id, name, given } = message as Question;
    const reply = (one: Answer) => void process.send?.(one);
    Promise.resolve()
      .then(() => {
        if (name === CPU) return ownCpuMs();
        if (name === MEMORY) return process.memoryUsage().rss;
        const found = answers[name];
        if (found === undefined) throw new Error(`cannot ${name}`);
        return found(given as never);
      })
      .then(
        (value) => reply({ id, value }),
        (error: unknown) => reply({ id, error: error instanceof Error ? error.message : String(error) }),
      );
  });
}
