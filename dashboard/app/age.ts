// When a board that is shown counts as old.
import type { BoardState } from "../data/board-store.ts";
import { SILENT_AFTER_MS } from "../data/site-clock.ts";

/** What is shown is old: the server is away, or only the kept board is there and it is not of this moment. */
export function isOld(state: BoardState, deviceNowMs: number): boolean {
  return (
    state.link === "away" ||
    (state.link === "waiting" && state.heardMs !== null && deviceNowMs - state.heardMs > SILENT_AFTER_MS)
  );
}
