// The client's page: dates of the film that is really there, none before the last coat lies, and what to leave alone.
import { describe, expect, it } from "vitest";
import type { BoardBody } from "#contract/board.ts";
import type { HandOverBody, UseBody } from "#contract/hand-over.ts";
import { clientPage } from "../../server/http/client-page.ts";
import { SAMPLE_BOARD } from "../support/sample-board.ts";
import { at } from "../support/sample-site.ts";

const ZONE = SAMPLE_BOARD.zones[0] as BoardBody["zones"][number];
const FILM = {
  ...{ coat: 1, sheet: "top-polyaspartic", pouredFrom: at(-9), pouredTo: at(-8), dewSafeEarned: 0.5, dewSafeAt: at(4) },
  ...{ dewSensitive: true, walkOnAt: at(1), driveOnAt: at(20), estimated: false },
};
function board(call: object): BoardBody {
  return {
    ...SAMPLE_BOARD,
    zones: [{ ...ZONE, call: { ...ZONE.call, film: FILM, nextCoat: null, pouring: false, ...call } } as never],
  };
}
const use = (of: UseBody["use"], reachedAt: string | null, notBefore: string | null): UseBody => ({
  ...{ use: of, state: "ahead", earned: null, estimated: false, reachedAt, notBefore },
});
const handOver = (uses: UseBody[]) => ({ uses }) as unknown as HandOverBody;
const zoneOf = (call: object, given: HandOverBody | null = null) => clientPage(board(call), null, () => given).zones[0];

describe("the client's page", () => {
  it("gives no date while a coat is still to come, is being laid, or none lies", () => {
    for (const call of [{ nextCoat: 2 }, { pouring: true }, { film: null, nextCoat: 0 }])
      expect(zoneOf(call, handOver([use("walk-on", null, at(5))]))).toMatchObject({
        ...{ walkOnAt: null, driveOnAt: null, washAt: null },
        leave: expect.arrayContaining(["keep-off"]) as unknown,
      });
    expect([zoneOf({ film: null, nextCoat: 0 })?.floor, zoneOf({ nextCoat: 2 })?.floor]).toEqual([
      "bare",
      "more-coats",
    ]);
  });
  it("goes by the slow side that the hand-over gives, not by the likely time of the call", () => {
    const shown = zoneOf(
      {},
      handOver([use("walk-on", null, at(3)), use("traffic", null, at(30)), use("washing", null, at(80))]),
    );
    expect(shown).toMatchObject({ floor: "last-coat", walkOnAt: at(3), driveOnAt: at(30), washAt: at(80) });
    expect(shown?.leave).toEqual(["keep-off", "no-vehicles", "no-water", "keep-warm", "keep-shut", "leave-sensors"]);
  });
  it("sets free what the film has earned, one by one", () => {
    const walked = handOver([use("walk-on", at(-1), null), use("traffic", null, at(30))]);
    expect(zoneOf({ film: { ...FILM, dewSensitive: false } }, walked)?.leave).toEqual([
      "no-vehicles",
      "no-water",
      "keep-warm",
      "leave-sensors",
    ]);
    const driven = handOver([use("walk-on", at(-9), null), use("traffic", at(-2), null), use("washing", at(-1), null)]);
    expect(zoneOf({ film: { ...FILM, dewSensitive: false } }, driven)?.leave).toEqual(["leave-sensors"]);
  });
  it("gives no date where the sheet has none: nothing is free by absence", () => {
    const shown = zoneOf({}, handOver([use("walk-on", at(-1), null)]));
    expect(shown).toMatchObject({ driveOnAt: null, washAt: null });
    expect(shown?.leave).toEqual(expect.arrayContaining(["no-vehicles", "no-water"]));
  });
});
