// A board as bytes is its text, whatever of it was made into bytes before.
import { expect, it } from "vitest";
import { type BoardBody } from "#contract/board.ts";
import { WHOLE_ZONES } from "#contract/board-brief.ts";
import { type BoardText, createBoardText, type ListText } from "#contract/board-text.ts";
import { createBoardBytes } from "../../server/http/board-bytes.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";

const [SAMPLE_ZONE] = SAMPLE_BOARD.zones;
const [SAMPLE_NODE] = SAMPLE_BOARD.nodes;
if (SAMPLE_ZONE === undefined || SAMPLE_NODE === undefined) throw new Error("the sample board has no zone or no node");

const zonesOf = (count: number): BoardBody["zones"] =>
  Array.from({ length: count }, (_, index) => ({
    ...SAMPLE_ZONE,
    // Letters of two and of three bytes.
    zone: { ...SAMPLE_ZONE.zone, id: `bay-${index}`, name: `Nave ${index} ñ €` },
  }));

it("says what the text says: first, again, and with a zone or a node changed, gone or added", () => {
  const bytes = createBoardBytes(createBoardText());
  const long: BoardBody = { ...SAMPLE_BOARD, zones: zonesOf(WHOLE_ZONES + 1) };
  const heard = { ...SAMPLE_NODE, lastHeard: "2026-02-03T22:11:00Z" };
  const boards: BoardBody[] = [
    long,
    long,
    { ...long, at: "2026-02-03T22:11:00Z" },
    { ...long, zones: long.zones.with(7, { ...SAMPLE_ZONE, outlook: null }) },
    { ...long, nodes: [heard, ...long.nodes.slice(1)] },
    { ...long, zones: long.zones.slice(1) },
    // Few enough to be whole: the same zones are written in another way.
    { ...long, zones: long.zones.slice(2) },
    { ...long, zones: long.zones.slice(0, 1), nodes: [] },
    { ...long, zones: [], nodes: [] },
    long,
  ];
  for (const board of boards) expect(bytes(board).toString()).toBe(createBoardText()(board));
});

/** The same text, and what was written for it of zones and nodes. */
function watchedText(): { readonly text: BoardText; readonly written: object[] } {
  const text = createBoardText();
  const written: object[] = [];
  const watched = new Map<ListText["write"], ListText["write"]>();
  const watchedOf = (write: ListText["write"]): ListText["write"] => {
    const known = watched.get(write) ?? ((item: object) => (written.push(item), write(item)));
    watched.set(write, known);
    return known;
  };
  const fields: BoardText["fields"] = (board) =>
    text.fields(board).map(({ head, value }) => ({
      head,
      value: typeof value === "string" ? value : { ...value, write: watchedOf(value.write) },
    }));
  return { text: Object.assign((board: BoardBody) => text(board), { fields }), written };
}

it("writes again only the zone and the node that have changed", () => {
  const { text, written } = watchedText();
  const bytes = createBoardBytes(text);
  const long: BoardBody = { ...SAMPLE_BOARD, zones: zonesOf(WHOLE_ZONES + 1) };
  bytes(long);
  expect(written).toEqual([...long.zones, ...long.nodes]);
  written.length = 0;
  bytes({ ...long, at: "2026-02-03T22:11:00Z", zones: [...long.zones].reverse(), nodes: [...long.nodes] });
  expect(written).toEqual([]);
  const zone = { ...SAMPLE_ZONE, outlook: null };
  const node = { ...SAMPLE_NODE, lastHeard: "2026-02-03T22:11:00Z" };
  bytes({ ...long, zones: long.zones.with(7, zone), nodes: [node, ...long.nodes.slice(1)] });
  expect(written).toHaveLength(2);
  for (const one of [zone, node]) expect(written.some((other) => other === one)).toBe(true);
});
