// The audit of packages: each finding needs a reason, a reason needs its finding, and no answer is not a clean bill.
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { type Allowed, judgeAudit } from "../../.ci/audit.ts";

/** In the form of `npm audit --json`, report version 2; from memory. Names and numbers are invented. */
const report = JSON.stringify({
  auditReportVersion: 2,
  vulnerabilities: {
    jetty: {
      severity: "high",
      via: [{ source: 1, url: "https://advisories.example/GHSA-aaaa-bbbb-cccc", title: "Leaks rope" }],
    },
    pier: { severity: "high", via: ["jetty"] },
  },
});
const allowed: Allowed = { advisory: "GHSA-aaaa-bbbb-cccc", package: "jetty", reason: "no rope is ever handed to it" };

it("names what is not explained, once", () => {
  expect(judgeAudit(report, [])).toEqual({
    kind: "answered",
    unexplained: ["jetty: Leaks rope (GHSA-aaaa-bbbb-cccc)"],
    gone: [],
  });
});
it("is content with a reason, not with an empty one or one for something else", () => {
  expect(judgeAudit(report, [allowed])).toEqual({ kind: "answered", unexplained: [], gone: [] });
  expect(judgeAudit(report, [{ ...allowed, reason: " " }])).toMatchObject({ unexplained: [expect.anything()] });
  expect(judgeAudit(report, [{ ...allowed, package: "pier" }])).toMatchObject({ unexplained: [expect.anything()] });
});
it("wants reasons taken out that are needed no more", () => {
  const clean = JSON.stringify({ auditReportVersion: 2, vulnerabilities: {} });
  expect(judgeAudit(clean, [])).toEqual({ kind: "answered", unexplained: [], gone: [] });
  expect(judgeAudit(clean, [allowed])).toMatchObject({ gone: ["jetty GHSA-aaaa-bbbb-cccc"] });
});
it("takes no answer for no answer", () => {
  expect(judgeAudit("", [])).toMatchObject({ kind: "unanswered" });
  expect(judgeAudit(JSON.stringify({ message: "405 Method Not Allowed" }), [])).toEqual({
    kind: "unanswered",
    why: "405 Method Not Allowed",
  });
});
it("every reason that stands is one", () => {
  const kept = JSON.parse(readFileSync(new URL("../../.ci/audit.json", import.meta.url), "utf8")) as Allowed[];
  for (const one of kept) expect(one.reason.length, one.package).toBeGreaterThan(20);
  expect(new Set(kept.map((one) => one.advisory + one.package)).size).toBe(kept.length);
});
