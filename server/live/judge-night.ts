// What the calls of a night file come to, by the same code as everything else. Nothing of it is kept.
import { bodyFromCall, type CallBody } from "#contract/call.ts";
import { readNightFile } from "#contract/night-file.ts";
import type { JudgedNightBody } from "#contract/judged-night.ts";
import { type Answer, good, refuse, refuseAll } from "./answer.ts";
import { inventedNight } from "./invented-night.ts";
import type { Office } from "./office.ts";

/** An outlook takes a good part of a second, and the sites that run here go first. */
const MOST_ASKS = 8;

/** At most `most` of a list: the last and others spread over the rest, in their order. */
function thinned<T>(list: readonly T[], most: number): T[] {
  if (list.length <= most) return [...list];
  return Array.from({ length: most }, (_, index) => list[Math.round((index * (list.length - 1)) / (most - 1))] as T);
}

export function createNightDesk({ judge, moments }: Office) {
  return {
    /** Ends with the minute that is over. */
    inventedNight: () => inventedNight(Math.floor(moments.now() / 60_000) * 60_000),

    async judgeNight(given: unknown): Promise<Answer<JudgedNightBody>> {
      const read = readNightFile(given);
      if (!read.ok) return refuseAll("invalid", read.faults);
      const { id, log, ask } = read.value;
      if (ask.length === 0) return refuse("invalid", "/ask", "is empty: the file names no moment to judge");
      const calls: CallBody[] = [];
      for (const { atMs, zone } of thinned(ask, MOST_ASKS)) {
        try {
          calls.push(bodyFromCall(judge.judgeZone(log, zone, atMs).call));
        } catch (error) {
          // Such as a part of a zone that had not been split by then.
          if (error instanceof RangeError) return refuse("invalid", "/ask", error.message);
          throw error;
        }
        await new Promise((resolve) => setImmediate(resolve));
      }
      const names = Object.fromEntries(log.zones.map((zone) => [zone.id, zone.name]));
      return good({ id, timezone: log.timezone, names, calls, asked: ask.length });
    },
  };
}
