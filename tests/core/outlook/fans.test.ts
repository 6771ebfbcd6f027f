// All fans in one walk are those that one walk for each gives.
import { expect, it } from "vitest";
import { fanOf, fansOf, VIEW_STRIDE } from "#core/outlook/fans.ts";
import type { Outlook } from "#core/outlook/outlook.ts";

/** Courses that cross each other, as many as asked. */
function outlookOf(count: number): Outlook {
  const steps = 100;
  const column = (member: number, quantity: number) =>
    Float64Array.from({ length: steps }, (_, step) => 10 + 5 * Math.sin(step / 9 + member * (1.7 + quantity)));
  const members = Array.from({ length: count }, (_, member) => ({
    weight: 1 / count,
    slabColdC: column(member, 0),
    slabHotC: column(member, 1),
    airC: column(member, 2),
    dewPointC: column(member, 3),
  }));
  return { fromMs: 0, stepMs: 600_000, steps, basis: ["two-nights"], feedFetchedMs: null, members };
}

it.each([1, 20, 200])("of %i members, each as by itself, a value for every step that is seen", (count) => {
  const outlook = outlookOf(count);
  const fans = fansOf(outlook);
  expect(fans).toEqual({
    marginK: fanOf(
      outlook,
      ({ slabColdC, dewPointC }, step) => (slabColdC[step] as number) - (dewPointC[step] as number),
    ),
    slabColdC: fanOf(outlook, ({ slabColdC }, step) => slabColdC[step] as number),
    airC: fanOf(outlook, ({ airC }, step) => airC[step] as number),
    dewPointC: fanOf(outlook, ({ dewPointC }, step) => dewPointC[step] as number),
  });
  expect(fans.airC.q50).toHaveLength(Math.ceil(outlook.steps / VIEW_STRIDE));
});
