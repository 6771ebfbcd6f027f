// Contrast of the colours against the paper, in both themes, by the formula of WCAG 2.2 (relative luminance and contrast ratio).
import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";

const css = readFileSync(new URL("../../dashboard/ui/tokens.css", import.meta.url), "utf8");

function tokens(selector: string): Record<string, string> {
  const block = new RegExp(`${selector.replace(/[[\]"=\-]/g, "\\$&")} \\{([^}]*)\\}`).exec(css)?.[1] ?? "";
  return Object.fromEntries(
    [...block.matchAll(/--([a-z]+): (#[0-9a-f]{6});/g)].map((match) => [match[1] ?? "", match[2] ?? ""]),
  );
}

function luminance(hex: string): number {
  const [r, g, b] = [1, 3, 5].map((at) => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

function contrast(a: string, b: string): number {
  const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

const day = tokens(':root[data-theme="light"]');
const night = tokens(':root[data-theme="dark"]');

describe.each([
  ["day", day],
  ["night", night],
])("%s", (_name, theme) => {
  it("reads the theme", () => {
    expect(Object.keys(theme)).toEqual(
      expect.arrayContaining(["paper", "ink", "pour", "wait", "abrade", "finished", "blind", "stop", "dim"]),
    );
  });
  it.each(["pour", "wait", "abrade", "finished", "blind", "ink", "stop"])("%s stands out at least 7 to 1", (name) => {
    expect(contrast(theme[name] ?? "#000000", theme["paper"] ?? "#000000")).toBeGreaterThanOrEqual(7);
  });
  it("small grey text stands out at least 7 to 1, also on washes", () => {
    for (const ground of ["paper", "wash"])
      expect(contrast(theme["dim"] ?? "#000000", theme[ground] ?? "#000000")).toBeGreaterThanOrEqual(7);
  });
});

it("the night has little blue: no colour of it has more blue than red or green", () => {
  for (const [name, hex] of Object.entries(night)) {
    const [r, g, b] = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16)) as [number, number, number];
    expect(b, name).toBeLessThanOrEqual(Math.max(r, g));
  }
});

it("the device's own choice of day or night gives the same colours as the button", () => {
  expect(tokens(":root")).toEqual(day);
  const dark = /prefers-color-scheme: dark\) \{\s*:root \{([^}]*)\}/.exec(css)?.[1] ?? "";
  expect(
    Object.fromEntries(
      [...dark.matchAll(/--([a-z]+): (#[0-9a-f]{6});/g)].map((match) => [match[1] ?? "", match[2] ?? ""]),
    ),
  ).toEqual(night);
});
