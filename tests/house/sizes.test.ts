// Small files: prints how long the files of each program are, and refuses the ones that hold more than one thing.
import { describe, expect, it } from "vitest";
import { filesBelow, linesOf, textOf } from "./tree.ts";

const limits = { max: 400, p95: 250 };

interface Sizes {
  files: number;
  median: number;
  p95: number;
  max: number;
}

/** Smallest length that at least `share` (0..1) of the files do not exceed. */
function quantile(ascending: number[], share: number): number {
  return ascending[Math.max(0, Math.ceil(share * ascending.length) - 1)] ?? 0;
}

function sizesOf(lengths: number[]): Sizes {
  const ascending = [...lengths].sort((a, b) => a - b);
  return {
    files: ascending.length,
    median: quantile(ascending, 0.5),
    p95: quantile(ascending, 0.95),
    max: ascending.at(-1) ?? 0,
  };
}

const sources = (folder: string) => filesBelow(folder).filter((path) => /\.(tsx?|css)$/.test(path));
const product = ["server", "dashboard", "firmware-sim"];

describe("lengths of source files", () => {
  it.each([...product, "tests"])("%s: none over 400 lines", (folder) => {
    const lengths = sources(folder).map((path) => ({ path, lines: linesOf(path) }));
    const { files, median, p95, max } = sizesOf(lengths.map(({ lines }) => lines));
    console.log(`${folder}: ${files} files, median ${median}, 95 % at most ${p95}, longest ${max} lines`);
    expect(files).toBeGreaterThan(0);
    expect(lengths.filter(({ lines }) => lines > limits.max)).toEqual([]);
  });

  it("the product: 95 % at most 250 lines", () => {
    const { p95 } = sizesOf(product.flatMap(sources).map(linesOf));
    expect(p95).toBeLessThanOrEqual(limits.p95);
  });

  it("are summed up by counting files, not by interpolating between them", () => {
    const lengths = Array.from({ length: 20 }, (_, at) => at + 1);
    expect(sizesOf(lengths)).toEqual({ files: 20, median: 10, p95: 19, max: 20 });
  });
});

describe("source files", () => {
  it("each say in their first line what they are", () => {
    const dumb = [...product, "tests", ".ci"]
      .flatMap(filesBelow)
      .filter((path) => /\.tsx?$/.test(path))
      .filter((path) => !/^(\/\/|\/\*\*?) ?\S/.test(firstLine(path)));
    expect(dumb).toEqual([]);
  });
});

function firstLine(path: string): string {
  return textOf(path).split("\n")[0] ?? "";
}
