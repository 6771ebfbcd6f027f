// The order of the test files leaves none out, begins with a long one, and keeps the pure ones in one row at the end.
import { expect, it } from "vitest";
import { mixed, PURE } from "../support/order.ts";
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

it("ends with the pure ones in one row", () => {
  expect(ordered.slice(ordered.findIndex(isPure)).every(isPure)).toBe(true);
  expect(ordered.filter(isPure).length).toBeGreaterThan(50);
});
