// The race of a film: hardening against the closing of its window, with the pour that must fit between. Pure.
import type { BoardZoneBody } from "#contract/board.ts";
import type { FanTimeBody } from "#contract/outlook.ts";

const HOUR_MS = 3_600_000;
/** What was longer ago is not drawn. */
const MOST_PAST_MS = 12 * HOUR_MS;
const MOST_AHEAD_MS = 36 * HOUR_MS;

/** A bar whose end is not sure: solid up to the first tenth of its possible ends, gone at the last. */
export interface SoftBar {
  readonly fromMs: number;
  readonly solidToMs: number;
  /** The likely end; null if it lies beyond the hours foreseen. */
  readonly endMs: number | null;
  readonly goneMs: number;
}

export interface Race {
  readonly fromMs: number;
  readonly toMs: number;
  readonly film: SoftBar;
  readonly window: SoftBar;
  /** The film has earned its minimum already. */
  readonly hard: boolean;
  readonly pourMs: number;
  /** Where the pour would lie if it began as soon as it may; null while the film is not foreseen to harden. */
  readonly pour: { readonly fromMs: number; readonly toMs: number; readonly fits: boolean } | null;
  /** From hard (or now, when it is hard) to the likely closing; below zero when the window closes first. */
  readonly gapMs: number | null;
  readonly earned: number | null;
  readonly chanceLost: number;
}

const time = (iso: string | null | undefined) => (iso === null || iso === undefined ? null : Date.parse(iso));

function softBar(fromMs: number, fan: FanTimeBody, known: number | null, horizonMs: number): SoftBar {
  const endMs = time(fan.likely) ?? (fan.chance >= 0.5 ? known : null);
  return {
    fromMs,
    solidToMs: time(fan.earliest) ?? endMs ?? horizonMs,
    endMs,
    goneMs: time(fan.latest) ?? horizonMs,
  };
}

/** null when there is nothing to race: no film, nothing to follow it, no outlook, or the window has closed on a hard film. */
export function raceOf(item: BoardZoneBody, nowMs: number): Race | null {
  const { call, outlook, zone } = item;
  const film = outlook?.film ?? null;
  if (call.film === null || film === null || call.nextCoat === null || call.pouring) return null;
  const { state } = call.window;
  if (state === "none" || state === "closed") return null;
  const pouredFromMs = Date.parse(call.film.pouredFrom);
  const opensMs = time(call.window.opensAt);
  const hard = state === "open" || (opensMs !== null && opensMs <= nowMs && (call.window.earned ?? 0) >= 1);
  const closesMs = time(call.window.closesAt);
  // Run is run: a hard film whose window has closed races no more, whatever the state is called.
  if (hard && closesMs !== null && closesMs <= nowMs) return null;
  // A hard film whose window never closes runs no race.
  if (hard && closesMs === null && film.closes.chance < 0.01) return null;
  const horizonMs = nowMs + MOST_AHEAD_MS;
  const fromMs = Math.max(pouredFromMs, nowMs - MOST_PAST_MS);
  const filmBar: SoftBar =
    hard && opensMs !== null
      ? { fromMs, solidToMs: opensMs, endMs: opensMs, goneMs: opensMs }
      : softBar(fromMs, film.opens, opensMs, horizonMs);
  const windowBar = softBar(fromMs, film.closes, closesMs, horizonMs);
  const pourMs = (zone.areaM2 / zone.pourM2PerH) * HOUR_MS;
  const startMs = hard ? nowMs : filmBar.endMs === null ? null : Math.max(nowMs, filmBar.endMs);
  const pour =
    startMs === null
      ? null
      : {
          fromMs: startMs,
          toMs: startMs + pourMs,
          fits: windowBar.endMs === null || startMs + pourMs <= windowBar.endMs,
        };
  const lastMs = Math.max(
    pour?.toMs ?? 0,
    ...[filmBar, windowBar].map((bar) => Math.max(bar.endMs ?? 0, bar.goneMs >= horizonMs ? 0 : bar.goneMs)),
    nowMs + 3 * HOUR_MS,
  );
  const anyBeyond = [filmBar, windowBar].some((bar) => bar.endMs === null);
  const toMs = anyBeyond ? horizonMs : Math.min(horizonMs, lastMs + 0.06 * (lastMs - fromMs));
  return {
    fromMs,
    toMs,
    film: filmBar,
    window: windowBar,
    hard,
    pourMs,
    pour,
    gapMs: startMs === null || windowBar.endMs === null ? null : windowBar.endMs - startMs,
    earned: call.window.earned,
    chanceLost: film.chanceLost,
  };
}

/** The fading end of a bar in pieces, each with how far it is hatched away (1 to 5). */
export function fadingOf(
  bar: SoftBar,
): readonly { readonly fromMs: number; readonly toMs: number; readonly fade: number }[] {
  const lengthMs = bar.goneMs - bar.solidToMs;
  if (lengthMs <= 0) return [];
  return [1, 2, 3, 4, 5].map((fade) => ({
    fromMs: bar.solidToMs + ((fade - 1) / 5) * lengthMs,
    toMs: bar.solidToMs + (fade / 5) * lengthMs,
    fade,
  }));
}
