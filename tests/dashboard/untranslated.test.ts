// Text that would reach a person in one language only: written into a component, or left the same in both dictionaries.
import ts from "typescript";
import { describe, expect, it } from "vitest";
import { en } from "../../dashboard/text/en.ts";
import { es } from "../../dashboard/text/es.ts";
import { filesBelow, textOf } from "../house/tree.ts";

/** The name of the product, and units and signs that are written alike everywhere. */
const ALIKE = /^(Nightslab|min|kW|BTU|mil|µm|psi|MPa|kg|gr|lb|gal|ft²|ft2|1000ft2|24h|ASTM|EN|CSP|PDF|CSV|JSON)$/;
const SPOKEN_ATTRIBUTES: readonly string[] = ["aria-label", "aria-description", "title", "placeholder", "alt", "label"];

/** Words of two letters or more that are no unit and no name. */
function wordsIn(text: string): string[] {
  return text.split(/[\s,;:.()·–—/]+/).filter((word) => /\p{L}{2,}/u.test(word) && !ALIKE.test(word));
}

/** What an expression can put on the screen by itself: literals, in the branches of a choice and in templates. */
function literalsOf(node: ts.Expression): string[] {
  if (ts.isParenthesizedExpression(node)) return literalsOf(node.expression);
  if (ts.isStringLiteralLike(node)) return [node.text];
  if (ts.isTemplateExpression(node))
    return [
      node.head.text,
      ...node.templateSpans.flatMap((span) => [...literalsOf(span.expression), span.literal.text]),
    ];
  if (ts.isConditionalExpression(node)) return [...literalsOf(node.whenTrue), ...literalsOf(node.whenFalse)];
  if (!ts.isBinaryExpression(node)) return [];
  const kind = node.operatorToken.kind;
  if (kind === ts.SyntaxKind.PlusToken) return [...literalsOf(node.left), ...literalsOf(node.right)];
  const either = [ts.SyntaxKind.BarBarToken, ts.SyntaxKind.QuestionQuestionToken].includes(kind);
  if (either) return [...literalsOf(node.left), ...literalsOf(node.right)];
  return kind === ts.SyntaxKind.AmpersandAmpersandToken ? literalsOf(node.right) : [];
}

/** Text of a component that comes from no dictionary, as `path:line: text`. */
function strays(path: string, source: string): string[] {
  const file = ts.createSourceFile(path, source, ts.ScriptTarget.ES2023, true, ts.ScriptKind.TSX);
  const found: string[] = [];
  const judge = (node: ts.Node, texts: readonly string[]) => {
    for (const text of texts)
      if (wordsIn(text).length > 0)
        found.push(`${path}:${file.getLineAndCharacterOfPosition(node.getStart(file)).line + 1}: ${text.trim()}`);
  };
  const visit = (node: ts.Node): void => {
    if (ts.isJsxText(node)) judge(node, [node.text]);
    if (ts.isJsxExpression(node) && node.expression !== undefined && !ts.isJsxAttribute(node.parent))
      judge(node, literalsOf(node.expression));
    if (
      ts.isJsxAttribute(node) &&
      SPOKEN_ATTRIBUTES.includes(node.name.getText(file)) &&
      node.initializer !== undefined
    ) {
      const value = node.initializer;
      if (ts.isStringLiteral(value)) judge(node, [value.text]);
      else if (ts.isJsxExpression(value) && value.expression !== undefined) judge(node, literalsOf(value.expression));
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}

/** The words that a sentence is made of, without what is put into it. */
function bodyOf(text: unknown): string {
  const pieces = String(text).match(/"[^"]*"|`[^`]*`/g) ?? [];
  return pieces.map((piece) => piece.replaceAll(/\$\{[^{}]*\}/g, " ").slice(1, -1)).join(" ");
}

/** Where two dictionaries say the same, as `path: text`. */
function same(a: unknown, b: unknown, path: string): string[] {
  if (typeof a === "string") return a === b && wordsIn(a).length > 0 ? [`${path}: ${a}`] : [];
  if (typeof a === "function") {
    const body = bodyOf(a);
    return body === bodyOf(b) && wordsIn(body).length > 0 ? [`${path}: ${body.trim()}`] : [];
  }
  if (typeof a !== "object" || a === null || typeof b !== "object" || b === null) return [];
  const other = b as Readonly<Record<string, unknown>>;
  return Object.entries(a).flatMap(([key, value]) => same(value, other[key], path === "" ? key : `${path}.${key}`));
}

/** True cognates, standards, and the languages in their own words. */
const COGNATES: readonly string[] = [
  ...["Inspector", "Web hook", "Kit", "Kits", "Material", "Radio", "Broker", "No", "no"],
  ...["English", "Español", "1:40 pm"],
];

describe("components", () => {
  it("say nothing that is in no dictionary", () => {
    const files = filesBelow("dashboard").filter((path) => path.endsWith(".tsx"));
    expect(files.length).toBeGreaterThan(80);
    expect(files.flatMap((path) => strays(path, textOf(path)))).toEqual([]);
  });

  it("are searched wherever text can stand", () => {
    const source = [
      "const a = <p>Hello there</p>;",
      "const b = <p title='Press me' className='not seen'>{words.fine} 5 min</p>;",
      "const c = <img alt={on ? `Lamp ${n}` : words.off} />;",
      "const d = <b>{on && 'Lit'}{words.x ?? 'None'}{show('key')}{'–'}</b>;",
    ].join("\n");
    expect(strays("x.tsx", source)).toEqual([
      "x.tsx:1: Hello there",
      "x.tsx:2: Press me",
      "x.tsx:3: Lamp",
      "x.tsx:4: Lit",
      "x.tsx:4: None",
    ]);
  });
});

describe("dictionaries", () => {
  it("are in two languages, but for true cognates", async () => {
    const found = same(en, es, "");
    let pairs = 1;
    const names = filesBelow("dashboard/text").flatMap((path) => /([\w-]+)\.ts$/.exec(path)?.slice(1) ?? []);
    for (const file of names) {
      const module = (await import(`../../dashboard/text/${file}.ts`)) as Readonly<Record<string, unknown>>;
      for (const [name, textFor] of Object.entries(module)) {
        if (!/^[a-z]\w*Text$/.test(name) || typeof textFor !== "function") continue;
        pairs += 1;
        found.push(...same(textFor(en), textFor(es), name));
      }
    }
    expect(pairs).toBeGreaterThan(12);
    const textIn = (one: string) => one.slice(one.indexOf(": ") + 2);
    expect(found.filter((one) => !COGNATES.includes(textIn(one)))).toEqual([]);
  });

  it("are compared word by word, sentences too", () => {
    const one = { a: "Slab", b: (n: number) => `${n} nodes silent`, c: ["–", "Hi there"], d: { e: "5 min" } };
    const other = { a: "Losa", b: (n: number) => `${n} nodes silent`, c: ["–", "Hi there"], d: { e: "5 min" } };
    expect(same(one, other, "")).toEqual(["b: nodes silent", "c.1: Hi there"]);
  });
});
