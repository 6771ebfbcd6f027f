// Gate 2 of the import law: a planted violation of every rule must fire, and the checker must have read the real tree.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { checkImports, type ImportReport, importRules, productFiles, unreadFiles } from "../../.ci/imports.ts";
import { type PlantedTree, plantTree, projectRoot } from "./plant.ts";

/** A file of the planted tree, what it imports, and the rules that must fire for it, in alphabetical order. */
interface Plant {
  path: string;
  imports: string[];
  rules: string[];
}

const allowed: Plant[] = [
  { path: "server/core/air/dew.ts", imports: ["./vapour.ts"], rules: [] },
  { path: "server/core/air/vapour.ts", imports: [], rules: [] },
  { path: "server/contract/call.ts", imports: ["#core/air/dew.ts", "typebox", "typebox/compile"], rules: [] },
  {
    path: "server/store/sqlite.ts",
    imports: ["#core/air/dew.ts", "#contract/call.ts", "./rows.ts", "libsql", "node:fs"],
    rules: [],
  },
  { path: "server/store/rows.ts", imports: ["#contract/call.ts"], rules: [] },
  { path: "server/notify/mail.ts", imports: ["#contract/call.ts", "node:net"], rules: [] },
  { path: "server/pipeline.ts", imports: ["#core/air/dew.ts", "#contract/call.ts"], rules: [] },
  { path: "server/app.ts", imports: ["./pipeline.ts", "./store/sqlite.ts", "./notify/mail.ts", "fastify"], rules: [] },
  { path: "server/settings.ts", imports: ["typebox"], rules: [] },
  { path: "server/main.ts", imports: ["./app.ts", "./settings.ts", "node:process"], rules: [] },
  { path: "dashboard/main.tsx", imports: ["./app/app.tsx", "react-dom/client"], rules: [] },
  {
    path: "dashboard/app/app.tsx",
    imports: ["../features/board/board.tsx", "../features/night/night.tsx", "react"],
    rules: [],
  },
  { path: "dashboard/parts/card.tsx", imports: ["react"], rules: [] },
  {
    path: "dashboard/features/board/board.tsx",
    imports: ["../../parts/card.tsx", "./zone.tsx", "#core/air/dew.ts"],
    rules: [],
  },
  { path: "dashboard/features/board/zone.tsx", imports: ["#contract/call.ts", "recharts"], rules: [] },
  { path: "dashboard/features/night/night.tsx", imports: ["../../parts/card.tsx"], rules: [] },
  { path: "dashboard/vite.config.ts", imports: ["vite", "@vitejs/plugin-react", "node:path"], rules: [] },
  {
    path: "firmware-sim/device/node.ts",
    imports: ["#core/air/dew.ts", "#contract/call.ts", "mqtt", "node:timers"],
    rules: [],
  },
  { path: "tests/app.test.ts", imports: ["../server/app.ts", "./support/clock.ts", "vitest"], rules: [] },
  { path: "tests/support/clock.ts", imports: [], rules: [] },
];

const planted: Plant[] = [
  { path: "server/core/p1-node.ts", imports: ["node:fs"], rules: ["core-stands-alone"] },
  { path: "server/core/p2-package.ts", imports: ["mqtt"], rules: ["core-stands-alone"] },
  { path: "server/core/p3-schema-type.ts", imports: ["type typebox"], rules: ["core-stands-alone"] },
  { path: "server/core/p4-upward.ts", imports: ["#contract/call.ts"], rules: ["core-stands-alone"] },
  // This package keeps its code in a folder named dist, which must not hide it.
  { path: "server/core/p5-built-package.ts", imports: ["vite"], rules: ["core-stands-alone"] },
  { path: "server/contract/p6-package.ts", imports: ["fastify"], rules: ["contract-is-schemas"] },
  { path: "server/contract/p7-adapter.ts", imports: ["../store/rows.ts"], rules: ["contract-is-schemas"] },
  { path: "server/http/p8-adapter.ts", imports: ["../store/rows.ts"], rules: ["adapters-never-meet"] },
  { path: "server/http/p9-adapter-type.ts", imports: ["type ../store/rows.ts"], rules: ["adapters-never-meet"] },
  { path: "server/stream/p10-composition.ts", imports: ["../pipeline.ts"], rules: ["adapters-never-meet"] },
  // A folder that nobody has thought of yet falls under the law as well.
  { path: "server/future/p11-adapter.ts", imports: ["../notify/mail.ts"], rules: ["adapters-never-meet"] },
  { path: "server/pipeline-timer.ts", imports: ["./store/rows.ts"], rules: ["pipeline-knows-only-ports"] },
  { path: "server/pipeline-clock.ts", imports: ["node:timers"], rules: ["pipeline-knows-only-ports"] },
  { path: "server/p12.ts", imports: ["../firmware-sim/device/node.ts"], rules: ["server-knows-no-other-program"] },
  {
    path: "dashboard/parts/p13.ts",
    imports: ["../../server/settings.ts"],
    rules: ["dashboard-knows-core-and-contract"],
  },
  { path: "dashboard/parts/p14.ts", imports: ["node:path"], rules: ["dashboard-runs-in-a-browser"] },
  { path: "dashboard/parts/p15.ts", imports: ["fastify"], rules: ["dashboard-packages-are-for-browsers"] },
  { path: "dashboard/features/night/p16.ts", imports: ["../board/zone.tsx"], rules: ["features-meet-in-app"] },
  { path: "dashboard/features/night/p17.ts", imports: ["type ../board/zone.tsx"], rules: ["features-meet-in-app"] },
  { path: "dashboard/parts/p18.ts", imports: ["../features/board/zone.tsx"], rules: ["only-app-knows-features"] },
  { path: "firmware-sim/p19.ts", imports: ["../server/app.ts"], rules: ["simulator-speaks-mqtt"] },
  { path: "firmware-sim/device/demo.ts", imports: ["../../server/app.ts"], rules: ["simulator-speaks-mqtt"] },
  { path: "server/p20.ts", imports: ["../tests/support/clock.ts"], rules: ["nothing-imports-tests"] },
  { path: ".ci/p21.ts", imports: ["../tests/support/clock.ts"], rules: ["nothing-imports-tests"] },
  { path: "server/record/p22-index/index.ts", imports: ["../sheet.ts"], rules: ["no-barrels"] },
  { path: "server/record/sheet.ts", imports: [], rules: [] },
  { path: "server/record/p23-lookup.ts", imports: ["picomatch"], rules: ["packages-are-declared"] },
  { path: "server/record/p24-tool.ts", imports: ["fast-check"], rules: ["no-development-packages"] },
  { path: "server/record/p25-nowhere.ts", imports: ["./nowhere.ts"], rules: ["imports-resolve"] },
  // The first three are what a demo may do.
  {
    path: "firmware-sim/demo.ts",
    imports: ["./device/node.ts", "../server/app.ts", "../server/settings.ts", "../server/store/rows.ts"],
    rules: ["demo-starts-the-app"],
  },
  // A circle is reported once, for the first of its files; a type import closes it too.
  { path: "server/core/air/left.ts", imports: ["./right.ts"], rules: ["no-cycles"] },
  { path: "server/core/air/right.ts", imports: ["type ./left.ts"], rules: [] },
];

function sourceOf({ imports }: Plant): string {
  const lines = imports.map((name, at) =>
    name.startsWith("type ")
      ? `import type * as part${at} from "${name.slice(5)}";\nexport type Part${at} = typeof part${at};`
      : `import * as part${at} from "${name}";\nvoid part${at};`,
  );
  return [...lines, "export const here = 1;"].join("\n");
}

describe("planted violations", () => {
  let tree: PlantedTree;
  let report: ImportReport;
  beforeAll(async () => {
    tree = plantTree(Object.fromEntries([...allowed, ...planted].map((plant) => [plant.path, sourceOf(plant)])));
    report = await checkImports(tree.root);
  });
  afterAll(() => tree.remove());

  it.each(planted)("$path -> $rules", ({ path, rules }) => {
    expect(report.violations.filter(({ from }) => from === path).map(({ rule }) => rule)).toEqual(rules);
  });

  it("are all that fires: what is allowed does not", () => {
    const guilty = planted.filter(({ rules }) => rules.length > 0).map(({ path }) => path);
    expect(report.violations.map(({ from }) => from).sort()).toEqual(guilty.sort());
  });

  it("name the import at fault and say why", () => {
    const found = report.violations.find(({ from }) => from === "firmware-sim/demo.ts");
    expect(found).toMatchObject({ to: "server/store/rows.ts", comment: expect.stringContaining("as anybody would") });
  });

  it("cover every rule of the checker", () => {
    const covered = new Set(planted.flatMap(({ rules }) => rules));
    expect([...covered].sort()).toEqual(importRules().sort());
  });
});

describe("the real tree", () => {
  let report: ImportReport;
  beforeAll(async () => {
    report = await checkImports(projectRoot);
  });

  it("was read: every TypeScript file of the product", () => {
    const files = productFiles(projectRoot);
    expect(files.length).toBeGreaterThan(30);
    expect(unreadFiles(projectRoot, report)).toEqual([]);
    expect(report.filesRead.length).toBeGreaterThanOrEqual(files.length);
    console.log(`import checker: ${report.filesRead.length} files, ${report.imports} imports read`);
  });

  it("keeps the law", () => {
    expect(report.violations.map(({ rule, from, to }) => `${from} imports ${to}: ${rule}`)).toEqual([]);
  });

  it("names a file that the checker has left out", () => {
    const [first, ...others] = report.filesRead.filter((path) => path.startsWith("server/"));
    expect(unreadFiles(projectRoot, { ...report, filesRead: others })).toContain(first);
  });
});
