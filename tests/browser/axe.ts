// What the accessibility rules of axe-core find on a page: WCAG 2.0 to 2.2, levels A and AA.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { Page } from "playwright-core";

const source = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

interface Found {
  readonly violations: readonly {
    readonly id: string;
    readonly help: string;
    readonly nodes: readonly { readonly html: string; readonly failureSummary?: string }[];
  }[];
}

export interface AxeWishes {
  /** Only what stands in here; the whole page unless given. */
  readonly within?: string | undefined;
  /** Rules by name; all of those levels unless given. */
  readonly only?: readonly string[];
}

/** One line a finding; empty where there is none. */
export async function axeFinds(page: Page, { within, only }: AxeWishes = {}): Promise<string[]> {
  if (!(await page.evaluate(() => "axe" in globalThis))) await page.evaluate(source);
  const { violations } = await page.evaluate(
    ({ runOnly, of }): Promise<Found> =>
      (globalThis as unknown as { axe: { run(of: Document | string, how: object): Promise<Found> } }).axe.run(
        of ?? document,
        { runOnly, resultTypes: ["violations"] },
      ),
    {
      of: within ?? null,
      runOnly: only === undefined ? { type: "tag", values: TAGS } : { type: "rule", values: [...only] },
    },
  );
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id} (${help}): ${html.slice(0, 160)} ${failureSummary ?? ""}`),
  );
}
