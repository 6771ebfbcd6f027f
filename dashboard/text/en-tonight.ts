// English texts of the page of the night: what it will bring, and what it has brought. Loaded with the page.

export type RiskKind = "blind" | "lost" | "closes" | "dew" | "cold" | "night" | "quiet";
export type TodoKind = "last-mix" | "finish" | "forecast" | "look" | "steps" | "heat" | "closes";
export type WorkWhy = "closing" | "now" | "later" | "rest";

/** Facts of a risk, written out; null where they are not known. */
export interface RiskFacts {
  readonly chance: string | null;
  readonly at: string | null;
  readonly worst: string | null;
  readonly limit: string | null;
  /** A dew point is above the slab, not below it. */
  readonly negative: boolean;
}

const perhaps = (before: string, said: string | null, after = "") => (said === null ? "" : `${before}${said}${after}`);
const limit = (f: RiskFacts) => perhaps("; limit ", f.limit);
const chance = (f: RiskFacts) => perhaps(" Chance about ", f.chance, ".");

const risks: Readonly<Record<RiskKind, (f: RiskFacts) => string>> = {
  blind: () => "No readings: nobody watches this floor tonight. Check the node, or measure by hand before you leave.",
  lost: (f) =>
    `The window closes${perhaps(" about ", f.at)} before the floor can be poured over.${perhaps(" Chance ", f.chance, ".")}`,
  closes: (f) => `The window closes${perhaps(" ", f.at)}, before morning.`,
  dew: (f) =>
    f.worst === null
      ? `Dew may fall on the film.${chance(f)}`
      : `The film is not past dew: on a bad night the slab comes to ${f.worst} ${f.negative ? "below" : "above"} dew point${perhaps(" about ", f.at)}${limit(f)}.${chance(f)}`,
  cold: (f) =>
    `The film may stop curing: on a bad night the slab falls to ${f.worst ?? "–"}${perhaps(" about ", f.at)}${limit(f)}.${chance(f)}`,
  night: (f) =>
    f.chance === null
      ? "A pour tonight is not judged: the night is not known."
      : `A coat laid now would not have its night: chance ${f.chance} that a limit breaks.`,
  quiet: () => "Nothing is foreseen tonight that threatens this floor.",
};

const todos: Readonly<Record<TodoKind, (at: string | null, finish: string | null, more: string) => string>> = {
  "last-mix": (at, finish) => `Last bucket mixed by ${at ?? "–"}${perhaps(", floor down by ", finish)}.`,
  finish: (at) => `Floor down by ${at ?? "–"}.`,
  forecast: () => "Type tonight's low and dew point: without them no pour is judged.",
  look: (_at, _finish, more) => `Needs a person before you leave: ${more}`,
  steps: (_at, _finish, more) => `Can be done before the night: ${more}.`,
  heat: (at) => `Ask what heat would do${perhaps(" before ", at)}.`,
  closes: (at) => `Window closes ${at ?? "–"}: pour before you leave, or plan abrading.`,
};

const why: Readonly<Record<WorkWhy, (at: string | null) => string>> = {
  closing: (at) => (at === null ? "Its window closes soon." : `Its window closes: begin by ${at}.`),
  now: () => "Waits for you now; no window presses.",
  later: (at) => (at === null ? "Opens later." : `Opens about ${at}.`),
  rest: () => "Nothing to do here yet.",
};

export const enTonight = {
  tonight: "Tonight",
  morning: "This morning",
  sides: "Which half of the night",
  until: (at: string) => `Every zone until ${at}, the worst first.`,
  since: (at: string) => `Since ${at}.`,
  asOf: (at: string) => `As of ${at}, not renewed since.`,
  onCall: "On call",
  onCallThen: ", then ",
  onCallNobody: "Nobody is on call: an alarm goes to everybody who cares for this site.",
  onCallNobodyAtAll: "Nobody is told of an alarm at this site.",
  onCallUnknown: "Who is on call is not known now.",
  openAlarms: (n: number) => (n === 0 ? "No open alarm" : n === 1 ? "1 open alarm" : `${n} open alarms`),
  alarmsUnknown: "Open alarms not known now",
  before: "Before you leave",
  beforeNothing: "Nothing presses.",
  doors:
    "Shut doors, gaps and covers: cold comes in along the floor first. Where a burner runs, keep the fresh air open that it needs.",
  silent: (node: string, since: string | null) =>
    since === null ? `Node ${node} was never heard: check it.` : `Node ${node} is silent since ${since}: check it.`,
  battery: (node: string, pct: string) => `Node ${node}: battery at ${pct}; change it before the cold.`,
  toHeat: "Heat plan",
  levels: { 0: "Quiet", 1: "Work waits", 2: "May go wrong", 3: "At stake" },
  zones: "The zones tonight",
  comeBack: "Come back",
  risks,
  todos,
  overnight: "What happened",
  knownFrom: (at: string) => `Calls and readings since ${at}; what lies before stands on the page of each zone.`,
  nothingHappened: "No call changed, and no zone came near its dew point.",
  change: (at: string, from: string, to: string) => `${at}: ${from} → ${to}`,
  hindsight: "seen in hindsight",
  dew: (time: string) => `${time} at or below the dew point`,
  near: (time: string) => `${time} too near the dew point`,
  cold: (time: string) => `${time} too cold`,
  gap: (time: string) => `${time} without readings`,
  rang: "Alarms",
  rangNone: "None rang.",
  rangUnknown: "Alarms of the night are not known now.",
  written: (n: number) =>
    n === 1 ? "1 entry was written in the journal." : `${n} entries were written in the journal.`,
  work: "Work in this order",
  workNone: "No zone has been set up yet.",
  why,
};

export type TonightText = typeof enTonight;
