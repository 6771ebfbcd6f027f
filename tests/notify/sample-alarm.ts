// An alarm as the machine gives it, for tests of who is told.
import type { AlarmBody, AlarmStepBody } from "#contract/alarm.ts";
import { isoFromMs } from "#contract/primitives.ts";

export const NIGHT_MS = Date.parse("2026-02-04T08:10:00Z"); // 02:10 in Chicago

type Word = AlarmStepBody["step"];
const STATE_AFTER: Readonly<Partial<Record<Word, AlarmBody["state"]>>> = {
  acknowledged: "acknowledged",
  snoozed: "snoozed",
  cleared: "cleared",
};

export function stepAt(step: Word, atMs: number, level: AlarmBody["level"] = "wake", by: string | null = null) {
  return { at: isoFromMs(atMs), step, by, level } satisfies AlarmStepBody;
}

/** The alarm with this history; its last step is what is told. */
export function sampleAlarm(history: readonly AlarmStepBody[], wish: Partial<AlarmBody> = {}): AlarmBody {
  const last = history.at(-1);
  if (last === undefined) throw new RangeError("no history");
  const acknowledged = history.find(({ step }) => step === "acknowledged");
  return {
    id: "a-slip-dew",
    site: "boathouse",
    kind: "margin-ahead",
    level: last.level,
    state: STATE_AFTER[last.step] ?? "open",
    zones: ["slip"],
    raisedAt: history[0]?.at ?? last.at,
    changedAt: last.at,
    clearedAt: last.step === "cleared" ? last.at : null,
    acknowledgedBy: acknowledged?.by ?? null,
    acknowledgedAt: acknowledged?.at ?? null,
    snoozedUntil: null,
    facts: {
      expectedAt: isoFromMs(NIGHT_MS + 3_600_000),
      chance: 0.8,
      measured: 1.4,
      limit: 3,
      unit: "K",
      about: null,
    },
    history: [...history],
    ...wish,
  };
}
