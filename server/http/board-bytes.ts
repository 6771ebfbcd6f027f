// A board as bytes. Most of a long one stands from question to question: what is written of a zone or a node is made into bytes
// once, and of a thousand zones only those are made anew that have changed.
import type { BoardBody } from "#contract/board.ts";
import type { BoardText, ListText } from "#contract/board-text.ts";

const OPEN = Buffer.from("[");
const CLOSE = Buffer.from("]");
const END = Buffer.from("}");

export function createBoardBytes(text: BoardText): (board: BoardBody) => Buffer {
  /** Each with a comma before it, by how it is written: a long board leaves something out of its zones. */
  const kept = new Map<ListText["write"], WeakMap<object, Buffer>>();
  const keptFor = (write: ListText["write"]): WeakMap<object, Buffer> => {
    const known = kept.get(write) ?? new WeakMap<object, Buffer>();
    kept.set(write, known);
    return known;
  };
  const bytesOf = ({ items, write }: ListText): Buffer[] => {
    const known = keptFor(write);
    const written = items.map((item) => {
      const bytes = known.get(item) ?? Buffer.from(`,${write(item)}`);
      known.set(item, bytes);
      return bytes;
    });
    const [first, ...others] = written;
    return first === undefined ? [OPEN, CLOSE] : [OPEN, first.subarray(1), ...others, CLOSE];
  };
  return (board) => {
    const all = text.fields(board).flatMap(({ head, value }) => {
      const before = Buffer.from(head);
      return typeof value === "string" ? [before, Buffer.from(value)] : [before, ...bytesOf(value)];
    });
    return all.length === 0 ? Buffer.from("{}") : Buffer.concat([...all, END]);
  };
}
