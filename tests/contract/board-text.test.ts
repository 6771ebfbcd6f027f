// A board written in parts is the text that it would be in one, whatever stands for how long.
import { expect, it } from "vitest";
import type { BoardBody } from "#contract/board.ts";
import { createBoardText } from "#contract/board-text.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";

it("writes what JSON.stringify writes, the first time and when calls and outlooks stand", () => {
  const text = createBoardText();
  for (let round = 0; round < 3; round++) expect(text(SAMPLE_BOARD)).toBe(JSON.stringify(SAMPLE_BOARD));
});

it("writes what has changed", () => {
  const text = createBoardText();
  text(SAMPLE_BOARD);
  const [first, ...others] = SAMPLE_BOARD.zones;
  if (first === undefined) expect.fail("no zones");
  const changed: BoardBody = {
    ...SAMPLE_BOARD,
    outdoorC: null,
    zones: [
      { ...first, call: { ...first.call, call: "wait" }, outlook: null, lastHeard: null },
      ...others.map(({ revised: _, ...zone }) => ({ ...zone, past: [] })),
    ],
    nodes: [],
  };
  expect(text(changed)).toBe(JSON.stringify(changed));
  expect(text(SAMPLE_BOARD)).toBe(JSON.stringify(SAMPLE_BOARD));
});

it("leaves out what has no value, as JSON does", () => {
  const [zone] = SAMPLE_BOARD.zones;
  const odd = { ...SAMPLE_BOARD, gone: undefined, zones: [{ ...zone, revised: undefined }] } as unknown as BoardBody;
  expect(createBoardText()(odd)).toBe(JSON.stringify(odd));
});
