// JSON Pointer: the examples of RFC 6901 section 5, and what stands nowhere.
import { describe, expect, it } from "vitest";
import { readerOf } from "#contract/faults.ts";
import { Pointer, valueAt } from "#contract/json-pointer.ts";

// RFC 6901 section 5, document and pointers as printed there.
const DOCUMENT = {
  foo: ["bar", "baz"],
  "": 0,
  "a/b": 1,
  "c%d": 2,
  "e^f": 3,
  "g|h": 4,
  "i\\j": 5,
  'k"l': 6,
  " ": 7,
  "m~n": 8,
};
const PRINTED: [string, unknown][] = [
  ["", DOCUMENT],
  ["/foo", ["bar", "baz"]],
  ["/foo/0", "bar"],
  ["/", 0],
  ["/a~1b", 1],
  ["/c%d", 2],
  ["/e^f", 3],
  ["/g|h", 4],
  ["/i\\j", 5],
  ['/k"l', 6],
  ["/ ", 7],
  ["/m~0n", 8],
];

describe("a JSON Pointer", () => {
  it.each(PRINTED)("%j is what the RFC says", (pointer, value) => {
    expect(valueAt(DOCUMENT, pointer)).toEqual(value);
    expect(readerOf(Pointer)(pointer).ok).toBe(true);
  });
  it("undoes ~1 before ~0, so that ~01 is a tilde and a one (section 4)", () => {
    expect(valueAt({ "~1": "tilde one", "/": "slash" }, "/~01")).toBe("tilde one");
  });
  it.each(["foo", "/foo/2", "/foo/-", "/foo/01", "/foo/0/0", "/foo/length", "/no", "/constructor", "/__proto__"])(
    "%s leads nowhere",
    (pointer) => expect(valueAt(DOCUMENT, pointer)).toBeUndefined(),
  );
  it.each(["foo", "/a~2", "/a~"])("%s is refused in a recipe", (pointer) => {
    expect(readerOf(Pointer)(pointer).ok).toBe(false);
  });
  it("stops at what is no object", () => {
    expect(valueAt(null, "/a")).toBeUndefined();
    expect(valueAt("text", "/0")).toBeUndefined();
  });
});
