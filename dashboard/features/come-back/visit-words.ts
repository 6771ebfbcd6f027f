// What a line of the list says: when, how long until then, what to do there, and how likely that is. Pure.
import { stripWords, unreadSheet, type Voice } from "../../text/sentence.ts";
import { showChance, showDuration } from "../../units/show.ts";
import type { Visit } from "./visits.ts";

export interface VisitWords {
  /** "NOW", a clock time, or a dash. */
  readonly when: string;
  /** "in 2 h 40", "5 h 36 left", or nothing. */
  readonly away: string;
  readonly what: string;
  /** "likely, 82 %", or nothing. */
  readonly chance: string;
  /** The mark of the zone whose window closes first, or nothing. */
  readonly mark: string;
}

export function chanceWord(chance: number, voice: Voice): string {
  const words = voice.text.comeBack.chances;
  if (chance >= 0.9) return words.high;
  if (chance >= 0.7) return words.good;
  return chance >= 0.5 ? words.fair : words.low;
}

function whatOf(visit: Visit, voice: Voice): string {
  const words = voice.text.comeBack;
  const at = (atMs: number | null) => (atMs === null ? null : voice.clock.when(atMs, voice.nowMs));
  const { item } = visit;
  switch (visit.errand) {
    case "pour":
      return words.pour(at(visit.startByMs));
    case "pouring":
      return words.pouring(at(visit.startByMs));
    case "steps": {
      const steps = item.call.steps.map((step) => voice.text.steps[step]).join(", ");
      const said = words.steps(steps === "" ? voice.text.steps.abrade : steps);
      return said.charAt(0).toUpperCase() + said.slice(1);
    }
    case "hands":
      return words.hands(stripWords(item, voice).lead);
    case "back": {
      // A first moment that lies at the likely one says nothing more.
      const fromMs =
        visit.earliestMs !== null && visit.atMs !== null && visit.atMs - visit.earliestMs > 300_000
          ? visit.earliestMs
          : null;
      if (visit.startByMs !== null && visit.atMs !== null && visit.startByMs <= visit.atMs + 300_000)
        return words.backAtOnce(at(fromMs));
      return words.back(at(fromMs), at(visit.startByMs));
    }
    case "lost": {
      const film = item.outlook?.film ?? null;
      const time = (iso: string | null | undefined) => at(iso === null || iso === undefined ? null : Date.parse(iso));
      return words.lost(time(film?.closes.likely ?? item.call.window.closesAt), time(film?.opens.likely));
    }
    case "abrade":
      return words.abrade;
    case "walk":
      return unreadSheet(item.call) === null ? words.walk : `${words.walk} ${words.unread}`;
    case "done":
      return words.done;
    case "nothing":
      return words.nothing(stripWords(item, voice).lead);
  }
}

export function visitWords(visit: Visit, voice: Voice): VisitWords {
  const { text, clock, nowMs } = voice;
  const words = text.comeBack;
  const waits = visit.errand === "done" || visit.errand === "nothing";
  const left = visit.startByMs === null ? "" : words.left(showDuration(Math.max(0, visit.startByMs - nowMs)));
  const inMs = (visit.atMs ?? nowMs) - nowMs;
  return {
    when:
      visit.atMs !== null ? clock.when(visit.atMs, nowMs) : waits || visit.errand === "lost" ? words.noTime : words.now,
    away: visit.atMs === null ? left : inMs < 60_000 ? text.anyMinute : text.inTime(showDuration(inMs)),
    what: whatOf(visit, voice),
    chance: visit.chance === null ? "" : words.chance(chanceWord(visit.chance, voice), showChance(visit.chance)),
    mark: visit.closesFirst && visit.closesMs !== null ? words.closesFirst(clock.when(visit.closesMs, nowMs)) : "",
  };
}
