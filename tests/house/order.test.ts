// The order of the test files leaves none out, begins with a long one, and keeps those that share a process in rows at the end.
import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { APART, mixed, PURE, SHARED } from "../support/order.ts";
import { filesBelow } from "./tree.ts";

const files = filesBelow("tests").filter((path) => /\.test\.tsx?$/.test(path));
const ordered = mixed(files, (path) => `/${path}`);
const isPure = (path: string) => PURE.some((folder) => path.startsWith(`tests/${folder}/`));

it("has every file once", () => {
  expect([...ordered].sort()).toEqual([...files].sort());
  expect(mixed(["/tests/a.test.ts", "/tests/b.test.ts"], (path) => path)).toHaveLength(2);
  expect(mixed([], String)).toEqual([]);
});

it("begins with the longest, with short ones between it and the next", () => {
  expect(ordered[0]).toBe("tests/browser/access.test.ts");
  const places = ordered.flatMap((path, index) => (path.startsWith("tests/browser/") ? [index] : []));
  expect(places.slice(0, 3)).not.toEqual([0, 1, 2]);
});

const isShared = (path: string) =>
  SHARED.some((folder) => path.startsWith(`tests/${folder}/`)) && !APART.some((apart) => apart === path);

it("lets no file share a process that puts a module in another's place", () => {
  const mocks = /\bvi\.(?:do)?mock\(|\bvi\.stubEnv\(/i;
  const replacing = files.filter(
    (path) => path !== "tests/house/order.test.ts" && mocks.test(readFileSync(path, "utf8")),
  );
  expect(replacing.filter((path) => isShared(path) || isPure(path))).toEqual([]);
  expect(replacing).toEqual(expect.arrayContaining([...APART]));
});

it("ends with the shared ones in one row, and then the pure ones in one", () => {
  const rest = ordered.slice(ordered.findIndex(isShared));
  const shared = rest.filter(isShared);
  expect(shared.length).toBeGreaterThan(50);
  expect(rest.slice(0, shared.length).every(isShared)).toBe(true);
  expect(ordered.slice(ordered.findIndex(isPure)).every(isPure)).toBe(true);
  expect(ordered.filter(isPure).length).toBeGreaterThan(50);
});
