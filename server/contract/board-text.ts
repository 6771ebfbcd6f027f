// The board as JSON text. A zone stands while nothing of it changes, and its call and outlook are most of it: each is written
// out once, and all of them are joined once. Of a long board calls are written without the rules that are met: they were three
// quarters of it.
import type { BoardBody } from "./board.ts";
import { briefCall, isBrief } from "./board-brief.ts";

/** Zones or nodes of a board. What is written of one stands as long as its body; all of them are joined once. */
export interface ListText {
  readonly items: readonly object[];
  readonly write: (item: object) => string;
  joined(): string;
}

/** What stands before a value, and the value. */
export interface FieldText {
  readonly head: string;
  readonly value: string | ListText;
}

export interface BoardText {
  (board: BoardBody): string;
  /** The same field by field; a brace stands behind the last one. */
  fields(board: BoardBody): readonly FieldText[];
}

type Zone = BoardBody["zones"][number];

/** Lists whose items are written so; while they are the same ones, what was joined stands. */
function lists<T extends object>(write: (item: T) => string): (items: readonly T[]) => ListText {
  // By the first of them: of another site it is another one, and what is gone is let go of.
  const known = new WeakMap<T, { readonly of: readonly T[]; readonly text: string }>();
  const joined = (items: readonly T[]): string => {
    const [first] = items;
    if (first === undefined) return "[]";
    const before = known.get(first);
    const isSame = before?.of.length === items.length && before.of.every((item, index) => item === items[index]);
    if (isSame) return before.text;
    const text = `[${items.map(write).join(",")}]`;
    known.set(first, { of: items, text });
    return text;
  };
  return (items) => ({ items, write: write as (item: object) => string, joined: () => joined(items) });
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
    return lists((zone: Zone) =>
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
  const nodes = lists((node: BoardBody["nodes"][number]) => JSON.stringify(node));
  const valueOf = (board: BoardBody, key: string, value: unknown): FieldText["value"] => {
    if (key === "nodes") return nodes(board.nodes);
    return key === "zones" ? (isBrief(board) ? brief : whole)(board.zones) : JSON.stringify(value);
  };
  const fields = (board: BoardBody): FieldText[] =>
    Object.entries(board)
      .filter(([, value]) => value !== undefined)
      .map(([key, value], index) => ({
        head: `${index === 0 ? "{" : ","}${JSON.stringify(key)}:`,
        value: valueOf(board, key, value),
      }));
  const text = (board: BoardBody): string => {
    const written = fields(board).map(({ head, value }) => head + (typeof value === "string" ? value : value.joined()));
    return written.length === 0 ? "{}" : `${written.join("")}}`;
  };
  return Object.assign(text, { fields });
}
