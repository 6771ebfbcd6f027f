// The board as JSON text. A zone stands while nothing of it changes, and its call and outlook are most of it: each is written
// out once.
import type { BoardBody } from "./board.ts";

export type BoardText = (board: BoardBody) => string;

/** Gives the text of `JSON.stringify(board)`. A body is known by its identity: it must never change in place. */
export function createBoardText(): BoardText {
  const known = new WeakMap<object, string>();
  const kept = (body: object): string => {
    const text = known.get(body) ?? JSON.stringify(body);
    known.set(body, text);
    return text;
  };
  const fieldsOf = (whole: object, textOf: (key: string, value: unknown) => string): string => {
    const fields = Object.entries(whole).filter(([, value]) => value !== undefined);
    return `{${fields.map(([key, value]) => `${JSON.stringify(key)}:${textOf(key, value)}`).join(",")}}`;
  };
  const zoneText = (zone: BoardBody["zones"][number]) => {
    const text =
      known.get(zone) ??
      fieldsOf(zone, (key, value) =>
        (key === "call" || key === "outlook") && typeof value === "object" && value !== null
          ? kept(value)
          : JSON.stringify(value),
      );
    known.set(zone, text);
    return text;
  };
  return (board) =>
    fieldsOf(board, (key, value) =>
      key === "zones" ? `[${board.zones.map(zoneText).join(",")}]` : JSON.stringify(value),
    );
}
