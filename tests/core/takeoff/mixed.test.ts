// A mix in the journal: its numbers reach the record of its coat, and no call looks at it.
import { expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import { poursOf, standingOf } from "#core/record/pours.ts";
import { entry, HOUR_MS, nightLog, NOON_MS, poured } from "../../support/night-log.ts";

it("the record of a coat has the numbers of its mixes, each once, and of no other coat", () => {
  const [a, b] = [
    { part: "A", number: "26-0107" },
    { part: "B", number: "25-1218" },
  ];
  const log = nightLog({
    journal: [
      entry("mixed", NOON_MS - 3 * HOUR_MS, { coat: 0, batch: 1, batches: [a, b] }),
      entry("mixed", NOON_MS - 2.5 * HOUR_MS, { coat: 0, batch: 2, batches: [a, { part: "B", number: "25-1219" }] }),
      entry("mixed", NOON_MS - 2.4 * HOUR_MS, { coat: 1, batch: 1, batches: [{ number: "other" }] }),
      poured(0, NOON_MS - 3 * HOUR_MS, 1, { batches: [a] }),
    ],
  });
  const [pour] = poursOf(standingOf(log, "a", NOON_MS));
  expect(pour?.batches).toEqual([a, b, { part: "B", number: "25-1219" }]);
});

it("moves no call", () => {
  const log = nightLog();
  const mixed = entry("mixed", NOON_MS - HOUR_MS, { coat: 0, batch: 1, volumeL: 11.4 });
  expect(judgeZone({ ...log, journal: [...log.journal, mixed] }, "a", NOON_MS).call).toEqual(
    judgeZone(log, "a", NOON_MS).call,
  );
});
