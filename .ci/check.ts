// `npm run check`: all habits of the house in one command: format, lint, types, import law, known weaknesses. Every gate runs, even after
// one has failed, so that one run shows all there is to mend. The linter takes as long as all others together, so it runs beside them.
import { spawn } from "node:child_process";
import { fileURLToPath } from "node:url";
import { audit } from "./audit.ts";
import { checkImports, unreadFiles } from "./imports.ts";

interface Outcome {
  gate: string;
  passed: boolean;
  /** Nobody answered, so nothing is known: said loudly, and no failure, since a site has no internet. */
  unasked?: true;
  took: string;
  note: string;
}

const root = fileURLToPath(new URL("..", import.meta.url));

function seconds(sinceMs: number): string {
  return `${((performance.now() - sinceMs) / 1000).toFixed(1)} s`;
}

/** Runs a tool of node_modules/.bin; what it says is kept together, since two run at a time. */
function runTool(tool: string, args: string[]): Promise<{ code: number; said: string }> {
  return new Promise((resolve, reject) => {
    const child = spawn(`${root}node_modules/.bin/${tool}`, args, { cwd: root, stdio: ["ignore", "pipe", "pipe"] });
    let said = "";
    for (const output of [child.stdout, child.stderr])
      output.setEncoding("utf8").on("data", (piece: string) => (said += piece));
    child.once("error", reject);
    child.once("close", (code) => resolve({ code: code ?? 1, said }));
  });
}

async function toolGate(gate: string, tool: string, args: string[], cure: string): Promise<Outcome> {
  const startMs = performance.now();
  const { code, said } = await runTool(tool, args);
  console.log(`\n--- ${gate}: ${tool} ${args.join(" ")}\n${said.trimEnd()}`);
  return { gate, passed: code === 0, took: seconds(startMs), note: code === 0 ? "" : cure };
}

async function importGate(): Promise<Outcome> {
  const startMs = performance.now();
  const report = await checkImports(root);
  console.log("\n--- imports: dependency-cruiser with .ci/dependency-cruiser.cjs");
  const unread = unreadFiles(root, report);
  for (const { rule, comment, from, to } of report.violations) {
    console.log(`${from} imports ${to}\n  ${rule}: ${comment}`);
  }
  for (const path of unread) console.log(`${path} was not read by the import checker`);
  const note =
    report.violations.length + unread.length === 0
      ? `${report.filesRead.length} files, ${report.imports} imports`
      : `${report.violations.length} forbidden imports, ${unread.length} files not read`;
  const passed = report.violations.length === 0 && unread.length === 0 && report.filesRead.length > 0;
  return { gate: "imports", passed, took: seconds(startMs), note };
}

async function auditGate(): Promise<Outcome> {
  const startMs = performance.now();
  const judged = await audit(root);
  console.log("\n--- audit: npm audit --omit=dev, against .ci/audit.json");
  const took = seconds(startMs);
  if (judged.kind === "unanswered") {
    console.log(`THE REGISTRY DID NOT ANSWER: whether a package has a known weakness is not known (${judged.why}).`);
    return { gate: "audit", passed: true, unasked: true, took, note: "no answer: run it again where there is one" };
  }
  for (const one of judged.unexplained) console.log(one);
  for (const one of judged.gone) console.log(`${one} stands in .ci/audit.json and is reported no more: take it out`);
  const { length } = judged.unexplained;
  const note =
    length === 0 ? "" : `${length} unexplained: update the package, or say why it cannot hurt in .ci/audit.json`;
  return { gate: "audit", passed: length === 0 && judged.gone.length === 0, took, note };
}

const lint = toolGate("lint", "eslint", ["-c", ".ci/eslint.config.js", "--max-warnings", "0", "."], "see above");
const format = await toolGate("format", "biome", ["format", "--reporter=summary", "."], "npm run format mends it");
const types = await toolGate("types", "tsc", ["-b"], "see above");
const imports = await importGate();
const known = await auditGate();
const outcomes = [format, await lint, types, imports, known];

console.log("\ngate     outcome  time     note");
for (const { gate, passed, unasked, took, note } of outcomes) {
  const outcome = unasked === true ? "UNASKED" : passed ? "passed" : "FAILED";
  console.log(`${gate.padEnd(8)} ${outcome.padEnd(8)} ${took.padEnd(8)} ${note}`);
}
process.exitCode = outcomes.every((outcome) => outcome.passed) ? 0 : 1;
