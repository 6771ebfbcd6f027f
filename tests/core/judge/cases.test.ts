// Every night file in tests/cases gives the call, the limiting rule, the steps and the announcement that it must.
import { describe, expect, it } from "vitest";
import { judgeZone } from "#core/judge/judge.ts";
import { caseFiles, readCase } from "../../support/cases.ts";

const nights = caseFiles.map((file) => ({ file, night: readCase(file) }));
const asks = nights.flatMap(({ file, night }) => night.expect.map((wanted) => ({ file, night, wanted })));

describe("the night files", () => {
  it("are all there", () => {
    expect(caseFiles).toHaveLength(58);
    expect(asks).toHaveLength(59);
    expect(nights.reduce((sum, { night }) => sum + night.ask.length, 0)).toBe(59);
  });

  it.each(asks)("$file $wanted.zone: $wanted.call", ({ night, wanted }) => {
    const { call } = judgeZone(night.log, wanted.zone, Date.parse(wanted.at));
    expect(call.call).toBe(wanted.call);
    if (wanted.limiting !== undefined) expect(wanted.limiting).toContain(call.limiting);
    if (wanted.steps !== undefined) expect(call.steps).toEqual(wanted.steps);
    if (wanted.next !== undefined) expect(call.next?.call ?? null).toBe(wanted.next);
  });
});
