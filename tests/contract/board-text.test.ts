// A board written in parts is the text that it would be in one, whatever stands for how long.
import { expect, it } from "vitest";
import { type BoardBody, BoardSchema } from "#contract/board.ts";
import { briefCall, WHOLE_ZONES } from "#contract/board-brief.ts";
import { createBoardText } from "#contract/board-text.ts";
import { readerOf } from "#contract/faults.ts";
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

const boardOf = (count: number): BoardBody => ({
  ...SAMPLE_BOARD,
  zones: Array.from({ length: count }, (_, index) => {
    const like = SAMPLE_BOARD.zones[index % SAMPLE_BOARD.zones.length] as BoardBody["zones"][number];
    return { ...like, zone: { ...like.zone, id: `bay-${index}` } };
  }),
});

it("a board that a device keeps is whole; a longer one leaves out rules that are met, and says how many", () => {
  const text = createBoardText();
  const whole = boardOf(WHOLE_ZONES);
  expect(text(whole)).toBe(JSON.stringify(whole));
  const long = boardOf(WHOLE_ZONES + 1);
  const brief = { ...long, zones: long.zones.map((zone) => ({ ...zone, call: briefCall(zone.call) })) };
  for (let round = 0; round < 2; round++) expect(text(long)).toBe(JSON.stringify(brief));
  // What was written for one is not taken for the other.
  expect(text(whole)).toBe(JSON.stringify(whole));
  expect(text({ ...whole, zones: long.zones.slice(1) })).toBe(JSON.stringify({ ...whole, zones: long.zones.slice(1) }));
  expect(readerOf(BoardSchema)(JSON.parse(text(long))).ok).toBe(true);
});

it("field by field it is the same text", () => {
  const text = createBoardText();
  const long = boardOf(WHOLE_ZONES + 1);
  const joined = (board: BoardBody) =>
    `${text
      .fields(board)
      .map(
        ({ head, value }) => head + (typeof value === "string" ? value : `[${value.items.map(value.write).join(",")}]`),
      )
      .join("")}}`;
  expect(joined(long)).toBe(text(long));
  // Of two sites by turns, of one that has lost a zone, and of none.
  for (const zones of [long.zones.slice(1), long.zones, long.zones.slice(0, -1), []]) {
    const board = { ...long, zones };
    expect(joined(board)).toBe(text(board));
    expect(JSON.parse(joined(board))).toEqual(JSON.parse(createBoardText()(board)));
  }
});

it("what stops, is near, unknown, the reason or said in words stays, and so do numbers that a board is read for", () => {
  let left = 0;
  for (const { call } of SAMPLE_BOARD.zones) {
    const brief = briefCall(call);
    const gone = call.rules.filter((rule) => !brief.rules.includes(rule));
    expect(brief.metLeftOut).toBe(gone.length);
    left += gone.length;
    for (const rule of gone) expect(rule).toMatchObject({ outcome: "pass", detail: null });
    expect(gone.map(({ rule }) => rule)).not.toContain(call.limiting);
    expect(brief.rules.map(({ rule }) => rule)).toContain("slab-cold");
  }
  expect(left).toBeGreaterThan(50);
});
