// English texts of the list that says when to come back to each zone.

/** Short parts, each a clause of its own; times and lengths come written out. */
export const enComeBack = {
  title: "When to come back",
  help: "In walking order: what can be poured now, then by the hour in which work opens.",
  print: "Print the list",
  more: (n: number) => `${n} more`,
  asOf: (at: string) => `As of ${at}, not renewed since.`,
  now: "NOW",
  left: (time: string) => `${time} left`,
  noTime: "–",
  closesFirst: (at: string) => `closes first, ${at}`,
  chances: { high: "very likely", good: "likely", fair: "perhaps", low: "doubtful" },
  chance: (word: string, pct: string) => `${word}, ${pct}`,
  pour: (by: string | null) => (by === null ? "Pour now." : `Pour now: start by ${by}.`),
  pouring: (by: string | null) => (by === null ? "Pour goes on." : `Pour goes on: finish by ${by}.`),
  steps: (steps: string) => `${steps}, then pour.`,
  hands: (reason: string) => `Needs a person: ${reason}`,
  back: (from: string | null, by: string | null) =>
    [
      "Come back to pour",
      from === null ? "" : `, not before ${from}`,
      by === null ? "." : from === null ? `, start by ${by}.` : `; start by ${by}.`,
    ].join(""),
  backAtOnce: (from: string | null) =>
    `Come back to pour${from === null ? "" : `, not before ${from}`}; start at once.`,
  lost: (closes: string | null, hard: string | null) =>
    closes === null || hard === null
      ? "Window closes before the film is hard: plan abrading."
      : `Window closes ${closes}, before the film is hard (${hard}): plan abrading.`,
  abrade: "Come back to abrade; the window is closed by then.",
  walk: "Finished: walk on from then.",
  unread: "Its sheet is not confirmed.",
  done: "Finished: nothing to come back for.",
  nothing: (reason: string) => `Nothing to come back for within 36 h. ${reason}`,
};
