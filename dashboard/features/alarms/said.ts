// The sentence of an alarm in the voice of the page, and what orders a list of them.
import type { AlarmBody } from "#contract/alarm.ts";
import type { BoardBody } from "#contract/board.ts";
import { ALARM_LEVELS } from "#core/alarm/kinds.ts";
import { sayAlarm } from "#core/alarm/say.ts";
import type { AlarmSentence } from "#core/alarm/words.ts";
import type { Voice } from "../../text/sentence.ts";

export function zoneNameOf(board: BoardBody, id: string): string {
  return board.zones.find(({ zone }) => zone.id === id)?.zone.name ?? id;
}

export function saidOf(alarm: AlarmBody, board: BoardBody, { text, units, clock, nowMs }: Voice): AlarmSentence {
  const { expectedAt, ...facts } = alarm.facts;
  const expectedAtMs = expectedAt === null ? null : Date.parse(expectedAt);
  return sayAlarm(
    { ...alarm, facts: { ...facts, expectedAtMs } },
    {
      language: text.lang === "es" ? "es" : "en",
      units,
      zoneName: (id) => zoneNameOf(board, id),
      clock: (atMs) => clock.when(atMs, nowMs),
    },
  );
}

/** Loudest first, then the newest. */
export function byWeight(alarms: readonly AlarmBody[]): readonly AlarmBody[] {
  const weight = ({ level }: AlarmBody) => ALARM_LEVELS.indexOf(level);
  return [...alarms].sort((a, b) => weight(b) - weight(a) || b.changedAt.localeCompare(a.changedAt));
}
