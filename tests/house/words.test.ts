// Words that the product never says to anybody: it warns and reports, it does not vouch for a floor or a life.
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { filesBelow, textOf } from "./tree.ts";

// Whole words only: `dewSafeH` is the name of a time on a sheet. 'Safety sheet' is where people are sent.
const forbidden = /(?<![\w-])(safe(ly|r|st)?|guarantee[ds]?)(?![\w]|-area-inset)/i;

interface Said {
  line: number;
  text: string;
}

/** Every text that can reach a person: string literals, templates and what stands between tags. Comments cannot. */
function textsIn(path: string, source: string): Said[] {
  const kind = path.endsWith("x") ? ts.ScriptKind.TSX : ts.ScriptKind.TS;
  const file = ts.createSourceFile(path, source, ts.ScriptTarget.ES2023, false, kind);
  const said: Said[] = [];
  const visit = (node: ts.Node): void => {
    if (
      ts.isStringLiteralLike(node) ||
      ts.isTemplateHead(node) ||
      ts.isTemplateMiddleOrTemplateTail(node) ||
      ts.isJsxText(node)
    ) {
      said.push({ line: file.getLineAndCharacterOfPosition(node.getStart(file)).line + 1, text: node.text });
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return said;
}

function slips(path: string, source: string): string[] {
  const texts = /\.html$/.test(path) ? [{ line: 1, text: source }] : textsIn(path, source);
  return texts.filter(({ text }) => forbidden.test(text)).map(({ line, text }) => `${path}:${line}: ${text.trim()}`);
}

describe("product text", () => {
  it("never vouches", () => {
    const files = ["server", "dashboard", "firmware-sim"]
      .flatMap(filesBelow)
      .filter((path) => /\.(tsx?|html)$/.test(path));
    expect(files.length).toBeGreaterThan(30);
    expect(files.flatMap((path) => slips(path, textOf(path)))).toEqual([]);
  });

  it("is found wherever it can stand", () => {
    const source = [
      "// a safe comment",
      'const dewSafeH = { label: "It is safe." };',
      "const a = `${dewSafeH} guaranteed ${1} Safely`;",
      "const b = <p title='dewSafeH'>Guarantees nothing, see the safety sheet</p>;",
      'const c = "env(safe-area-inset-top)";',
    ].join("\n");
    expect(slips("x.tsx", source)).toEqual([
      "x.tsx:2: It is safe.",
      "x.tsx:3: guaranteed",
      "x.tsx:3: Safely",
      "x.tsx:4: Guarantees nothing, see the safety sheet",
    ]);
  });
});
