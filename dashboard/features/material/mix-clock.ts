// The clock of one mix: from the wall time at which it began, so that a locked phone or a page loaded anew loses nothing. Pure.

const MINUTE_MS = 60_000;
/** A mix that began longer ago is forgotten: nobody waits for it. */
const FORGET_MS = 12 * 3_600_000;

/** What is kept of a mix that is going on, on this device. */
export interface MixRun {
  readonly coat: number;
  readonly batch: number;
  /** Time of this device. */
  readonly startedMs: number;
  /** The same moment in the time of the site, ISO 8601: goes into the journal. */
  readonly at: string;
  readonly volumeL: number;
  readonly mixMin: number;
  readonly restMin: number;
  readonly lifeMin: number;
}

export type MixStage = "mixing" | "resting" | "pail" | "dead";

export interface MixMoment {
  readonly stage: MixStage;
  /** To the end of the stage; 0 when dead. */
  readonly leftMs: number;
  /** To the end of the life of the pail, 0 when it is over. */
  readonly lifeLeftMs: number;
}

/** Where a mix stands. Its life counts from the first turn of the mixer, and ends every stage. */
export function mixMoment(run: MixRun, nowMs: number): MixMoment {
  const goneMs = Math.max(0, nowMs - run.startedMs);
  const lifeMs = run.lifeMin * MINUTE_MS;
  const lifeLeftMs = Math.max(0, lifeMs - goneMs);
  if (lifeLeftMs === 0) return { stage: "dead", leftMs: 0, lifeLeftMs };
  const mixedMs = run.mixMin * MINUTE_MS;
  const restedMs = mixedMs + run.restMin * MINUTE_MS;
  const stage = goneMs < mixedMs ? "mixing" : goneMs < restedMs ? "resting" : "pail";
  const endMs = stage === "mixing" ? mixedMs : stage === "resting" ? restedMs : lifeMs;
  return { stage, leftMs: Math.min(endMs - goneMs, lifeLeftMs), lifeLeftMs };
}

/** Minutes and seconds, as a kitchen clock shows them: "12:05". Rounded up, so that 0:00 is the end. */
export function countdown(ms: number): string {
  const seconds = Math.max(0, Math.ceil(ms / 1000));
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
}

const FIELDS = ["coat", "batch", "startedMs", "volumeL", "mixMin", "restMin", "lifeMin"] as const;

/** Read leniently: what an older version kept, or a mix of yesterday, is none. */
export function mixRunFrom(kept: unknown, nowMs: number): MixRun | null {
  const raw = (typeof kept === "object" && kept !== null ? kept : {}) as Record<string, unknown>;
  const sound = FIELDS.every((field) => Number.isFinite(raw[field])) && typeof raw["at"] === "string";
  if (!sound) return null;
  const run = raw as unknown as MixRun;
  return nowMs - run.startedMs < FORGET_MS ? run : null;
}
