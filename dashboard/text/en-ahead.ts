// English texts of what lies ahead of one zone: the race of film and window, and the rules that may fail. Loaded with the zone page.

export const enAhead = {
  race: {
    title: "Film against window",
    help: "The film must be hard, and the whole zone poured over, before the recoat window closes.",
    film: "Film",
    window: "Window",
    pour: "Pour",
    hard: (at: string) => `hard ${at}`,
    hardSince: (at: string) => `hard since ${at}`,
    hardLater: "not hard within the hours foreseen",
    closes: (at: string) => `closes ${at}`,
    closesLater: "no end within the hours foreseen",
    takes: (time: string) => `takes ${time}`,
    fits: "fits",
    fitsNot: "does not fit",
    earned: (pct: string) => `${pct} earned`,
    now: "now",
    never: (chance: string) =>
      `The film will hardly be hard within the hours foreseen, and the window closes first: chance of losing it ${chance}.`,
    behind: (gap: string, chance: string) =>
      `The film is hard about ${gap} after the window closes: chance of losing it ${chance}.`,
    tight: (gap: string, pour: string, chance: string) =>
      `Between hard and closed lie about ${gap}; the pour takes ${pour}: chance of losing the window ${chance}.`,
    room: (gap: string, pour: string, chance: string) =>
      `Between hard and closed lie about ${gap}, room for a pour of ${pour}; chance of losing the window ${chance}.`,
    open: (closes: string, left: string, pour: string, by: string, chance: string) =>
      `The film is hard. The window closes about ${closes}, in ${left}; the pour takes ${pour}: start by ${by}. Chance of losing the window ${chance}.`,
    openLate: (closes: string, left: string, pour: string, chance: string) =>
      `The film is hard, but the window closes about ${closes}, in ${left}, and the pour takes ${pour}: chance of losing it ${chance}.`,
    endless: (hard: string) => `The film is hard about ${hard}; the window does not close within the hours foreseen.`,
    endlessOpen: "The film is hard, and the window does not close within the hours foreseen.",
    neverSoft:
      "A soft film is never abraded: if the window is lost, wait until the film is hard, then abrade and clean.",
    toHeat: "Could heat save it?",
    soft: "fading ends: the time is not sure; the stroke is the likely one",
  },
  failing: {
    title: "What could go wrong, and by when",
    help: "Chance that a limit of the next coat has been broken at least once by then, at the worst spot.",
    rule: "Rule",
    by: (hours: number) => `by ${hours} h`,
    hours: (hours: number) => `${hours} h`,
    least: "< 1 %",
    nothing: "No limit is likely to be broken within the hours foreseen.",
  },
  heat: {
    title: "What would heat do?",
    help: "Set a heater and see at once what the slab, the film and the window would do. Nothing is switched and nothing is stored.",
    open: "Ask",
    close: "Put away",
  },
  feed: {
    doubted: {
      stale: "Weather feed not used: it says nothing new.",
      ends: "Weather feed not used: it ends too soon.",
      jumps: "Weather feed not used: its numbers jump.",
      unit: "Weather feed not used: its numbers look like another unit.",
      "time-zone": "Weather feed not used: its hours look shifted.",
      disagrees: "Weather feed not used: it contradicts what was measured.",
    },
    unread: (since: string) => `Weather feed not read since ${since}.`,
    neverRead: "Weather feed not read yet.",
    without: "The night is judged by what is known without it.",
  },
  helps: {
    chart: "The slab must stay above the shaded band; what lies right of now is foreseen, with its likely range.",
    rules: "Every reason to stop, in the order in which they are judged; the first that stops decides the call.",
    numbers: "What is measured at the worst spot of this zone, and what follows from it.",
    pad: "Write down what was done as it is done: the call reckons with it at once.",
    journal: "What people did and saw here, the newest first. Nothing is ever erased.",
  },
};

export type AheadText = typeof enAhead;
