// The preflight of the tests: its list, how it finds programs, and that it stops with names instead of skipping.
import { existsSync } from "node:fs";
import { expect, it } from "vitest";
import preflight from "../../.ci/preflight.ts";
import { findProgram, outsidePrograms, programPath, readProgramList } from "../../.ci/programs.ts";

it("reads package and command from the one list", () => {
  expect(readProgramList("# why\nchromium\nmosquitto-clients  mosquitto_pub # to publish\n\n")).toEqual([
    { package: "chromium", command: "chromium" },
    { package: "mosquitto-clients", command: "mosquitto_pub" },
  ]);
});

it("finds every program on the list where it is", () => {
  const found = outsidePrograms().map(({ command }) => programPath(command));
  expect(found.length).toBeGreaterThanOrEqual(2);
  expect(found.filter((path) => !existsSync(path))).toEqual([]);
});

it("knows a program that is not there", () => {
  expect(findProgram("nightslab-has-no-such-program")).toBeNull();
  expect(() => programPath("nightslab-has-no-such-program")).toThrow(".ci/debian-packages.txt");
});

it("is content when nothing is missing, and otherwise names the packages in one line", () => {
  expect(() => preflight()).not.toThrow();
  const missing = [{ package: "no-such-package", command: "nightslab-has-no-such-program" }];
  const asked: string[][] = [];
  const install = (packages: string[]) => void asked.push(packages);
  expect(() => preflight(undefined, missing, install)).toThrow(/^the tests need these programs: no-such-package /);
  expect(asked.flat().every((name) => name === "no-such-package")).toBe(true);
});
