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

/** One line a finding; empty where there is none. */
export async function axeFinds(page: Page): Promise<string[]> {
  await page.evaluate(source);
  const { violations } = await page.evaluate(
    (tags): Promise<Found> =>
      (globalThis as unknown as { axe: { run(of: Document, how: object): Promise<Found> } }).axe.run(document, {
        runOnly: { type: "tag", values: tags },
        resultTypes: ["violations"],
      }),
    TAGS,
  );
  return violations.flatMap(({ id, help, nodes }) =>
    nodes.map(({ html, failureSummary }) => `${id} (${help}): ${html.slice(0, 160)} ${failureSummary ?? ""}`),
  );
}
