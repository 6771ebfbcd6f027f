// What the race says in one sentence. Pure.
import { aheadText } from "../../text/ahead.ts";
import type { Voice } from "../../text/sentence.ts";
import { showChance, showDuration } from "../../units/show.ts";
import type { Race } from "./race.ts";

export function raceWords(race: Race, voice: Voice): string {
  const words = aheadText(voice.text).race;
  const at = (atMs: number) => voice.clock.when(atMs, voice.nowMs);
  const chance = showChance(race.chanceLost);
  const pour = showDuration(race.pourMs);
  const closesMs = race.window.endMs;
  if (race.film.endMs === null) return words.never(chance);
  if (closesMs === null || race.gapMs === null)
    return race.hard ? words.endlessOpen : words.endless(at(race.film.endMs));
  if (race.hard) {
    const left = showDuration(Math.max(0, closesMs - voice.nowMs));
    const byMs = closesMs - race.pourMs;
    return byMs > voice.nowMs
      ? words.open(at(closesMs), left, pour, at(byMs), chance)
      : words.openLate(at(closesMs), left, pour, chance);
  }
  const gap = showDuration(race.gapMs);
  if (race.gapMs < 0) return words.behind(gap, chance);
  return race.gapMs < race.pourMs * 1.5 ? words.tight(gap, pour, chance) : words.room(gap, pour, chance);
}
