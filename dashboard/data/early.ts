// Answers that came with the page itself (`early.js`): each is handed on once, and only while it is fresh.

interface Early {
  readonly answer: Promise<Response>;
  /** Time of the page. */
  readonly askedMs: number;
}

/** A board that stood here for longer would be shown as if it had just been heard. */
const FRESH_MS = 10_000;

export function earlyAnswer(path: string): Promise<Response> | null {
  const asked = (globalThis as { nightslabEarly?: Record<string, Early | false | null> }).nightslabEarly;
  if (asked === undefined) return null;
  const early = asked[path] || null;
  // Taken, or asked from here on: it is not asked there any more.
  asked[path] = null;
  return early !== null && performance.now() - early.askedMs < FRESH_MS ? early.answer : null;
}
