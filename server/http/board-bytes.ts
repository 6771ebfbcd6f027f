// A board as bytes. What stands of it is the same text again and again, and long: it is made into bytes once.
import type { BoardBody } from "#contract/board.ts";
import type { BoardText } from "#contract/board-text.ts";

/** A shorter piece is made anew sooner than it is found. */
const KEPT_LENGTH = 64 * 1024;
/** Of so many sites that are looked at in turn: zones and nodes of each. */
const KEPT = 8;

export function createBoardBytes(text: BoardText): (board: BoardBody) => Buffer {
  /** Latest first. */
  let kept: { readonly piece: string; readonly bytes: Buffer }[] = [];
  const bytesOf = (piece: string): Buffer => {
    if (piece.length < KEPT_LENGTH) return Buffer.from(piece);
    const known = kept.find((one) => one.piece === piece) ?? { piece, bytes: Buffer.from(piece) };
    kept = [known, ...kept.filter((one) => one !== known)].slice(0, KEPT);
    return known.bytes;
  };
  return (board) => Buffer.concat(text.pieces(board).map(bytesOf));
}
