// The board as JSON text. A zone stands while nothing of it changes, and its call and outlook are most of it: each is written
// out once, and all of them are joined once. Of a long board calls are written without the rules that are met: they were three
// quarters of it.
import type { BoardBody } from "./board.ts";
import { briefCall, isBrief } from "./board-brief.ts";

export interface BoardText {
  (board: BoardBody): string;
  /** The same in pieces: its zones are one, its nodes another, and while nothing of them changes they are the same strings. */
  pieces(board: BoardBody): readonly string[];
}

type Zone = BoardBody["zones"][number];

/** Joins what is written of each item; while they are the same ones, what was joined stands. */
function joiner<T extends object>(write: (item: T) => string): (items: readonly T[]) => string {
  // By the first of them: of another site it is another one, and what is gone is let go of.
  const known = new WeakMap<T, { readonly of: readonly T[]; readonly text: string }>();
  return (items) => {
    const [first] = items;
    if (first === undefined) return "[]";
    const before = known.get(first);
    const isSame = before?.of.length === items.length && before.of.every((item, index) => item === items[index]);
    if (isSame) return before.text;
    const text = `[${items.map(write).join(",")}]`;
    known.set(first, { of: items, text });
    return text;
  };
}

/**
 * Gives the text of `JSON.stringify(board)`; of a long one with each call as `briefCall` gives it. A body is known by its
 * identity: it must never change in place.
 */
export function createBoardText(): BoardText {
  const fieldsOf = (whole: object, textOf: (key: string, value: unknown) => string): string => {
    const fields = Object.entries(whole).filter(([, value]) => value !== undefined);
    return `{${fields.map(([key, value]) => `${JSON.stringify(key)}:${textOf(key, value)}`).join(",")}}`;
  };
  const outlooks = new WeakMap<object, string>();
  const zoneTexts = (callOf: (call: Zone["call"]) => Zone["call"]) => {
    const zones = new WeakMap<object, string>();
    const calls = new WeakMap<object, string>();
    const kept = (known: WeakMap<object, string>, body: object, write: () => string): string => {
      const text = known.get(body) ?? write();
      known.set(body, text);
      return text;
    };
    return joiner((zone: Zone) =>
      kept(zones, zone, () =>
        fieldsOf(zone, (key, value) => {
          if (key === "call") return kept(calls, zone.call, () => JSON.stringify(callOf(zone.call)));
          if (key !== "outlook" || zone.outlook === null) return JSON.stringify(value);
          return kept(outlooks, zone.outlook, () => JSON.stringify(value));
        }),
      ),
    );
  };
  const whole = zoneTexts((call) => call);
  const brief = zoneTexts(briefCall);
  const nodes = joiner((node: BoardBody["nodes"][number]) => JSON.stringify(node));
  const valueOf = (board: BoardBody, key: string, value: unknown): string => {
    if (key === "nodes") return nodes(board.nodes);
    return key === "zones" ? (isBrief(board) ? brief : whole)(board.zones) : JSON.stringify(value);
  };
  const pieces = (board: BoardBody): string[] => {
    const fields = Object.entries(board).filter(([, value]) => value !== undefined);
    const written = fields.flatMap(([key, value], index) => [
      `${index === 0 ? "{" : ","}${JSON.stringify(key)}:`,
      valueOf(board, key, value),
    ]);
    return written.length === 0 ? ["{}"] : [...written, "}"];
  };
  return Object.assign((board: BoardBody) => pieces(board).join(""), { pieces });
}
