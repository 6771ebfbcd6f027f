// A value in pieces is the same text as in one, and no piece is long because a list is.
import fc from "fast-check";
import { expect, it } from "vitest";
import { jsonPieces } from "../../../server/core/record/json-pieces.ts";

it("writes what JSON.stringify writes", () => {
  const value = fc.dictionary(fc.string(), fc.oneof(fc.jsonValue(), fc.constant(undefined)));
  fc.assert(
    fc.property(value, (one) => {
      expect([...jsonPieces(one)].join("")).toBe(JSON.stringify(one));
    }),
  );
});

it.each([0, 1, 999, 1000, 1001, 2000, 4321])("cuts a list of %d, and loses nothing of it", (length) => {
  const list = Array.from({ length }, (_, index) => ({ t: index, v: index % 3 === 0 ? undefined : "é" }));
  const value = { before: 1, list, after: [null, undefined] };
  const pieces = [...jsonPieces(value)];
  expect(pieces.join("")).toBe(JSON.stringify(value));
  expect(Math.max(...pieces.map((piece) => piece.length))).toBeLessThan(30_000);
});
