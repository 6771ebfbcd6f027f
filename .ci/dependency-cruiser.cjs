// Gate 2 of the import law: who may import whom. Written over folder patterns, so that a new folder falls under it too.
// Each comment is printed to the person who trips the rule. tests/house/law.test.ts plants a violation of every rule.

// Folders of the server that talk to the outside. Any folder beside core and contract is one, whatever its name.
const adapter = "^server/(?!core/|contract/)([^/]+)/";
const pure = "^server/(core|contract)/";
const programs = "^(server|dashboard|firmware-sim)/";

/** @type {import("dependency-cruiser").IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: "core-stands-alone",
      severity: "error",
      comment:
        "server/core is arithmetic that three programs and every replay share. With a package, a Node module or a file " +
        "from elsewhere in it, a past call could no longer be reproduced, and the browser could not load it. Pass the " +
        "value in as an argument.",
      from: { path: "^server/core/" },
      // A name that leads nowhere is the business of imports-resolve.
      to: { pathNot: "^server/core/", couldNotResolve: false },
    },
    {
      name: "contract-is-schemas",
      severity: "error",
      comment:
        "server/contract describes what crosses a border and is loaded by server, dashboard and simulator alike: only " +
        "core and the schema library (typebox) may stand behind it.",
      from: { path: "^server/contract/" },
      to: { pathNot: [pure, "(^|/)node_modules/typebox/"] },
    },
    {
      name: "adapters-never-meet",
      severity: "error",
      comment:
        "A folder that talks to the outside (ingest, store, http, stream, notify, record, ...) knows core, contract and " +
        "itself. Two that know each other cannot be replaced or tested alone. State the need as an interface in your " +
        "own folder; server/app.ts joins the two.",
      from: { path: adapter },
      to: { path: programs, pathNot: [pure, "^server/$1/"] },
    },
    {
      name: "pipeline-knows-only-ports",
      severity: "error",
      comment:
        "server/pipeline.ts is the flow on one screen, the same for live and replay. It declares ports and imports " +
        "core and contract; an adapter or a package in it would tie the flow to one way of running.",
      from: { path: "^server/pipeline[^/]*\\.ts$" },
      to: { pathNot: [pure, "^server/pipeline[^/]*\\.ts$"] },
    },
    {
      name: "server-knows-no-other-program",
      severity: "error",
      comment: "The server runs without the dashboard's and the simulator's code; they reach it over HTTP and MQTT.",
      from: { path: "^server/" },
      to: { path: "^(dashboard|firmware-sim)/" },
    },
    {
      name: "dashboard-knows-core-and-contract",
      severity: "error",
      comment:
        "The dashboard takes arithmetic from server/core and types from server/contract. Anything else of the server or " +
        "the simulator would end up in the browser, secrets and all: ask over HTTP instead.",
      from: { path: "^dashboard/" },
      to: { path: programs, pathNot: [pure, "^dashboard/"] },
    },
    {
      name: "dashboard-runs-in-a-browser",
      severity: "error",
      comment:
        "There is no Node in a browser: a node: module breaks the page at load. Only the build's own settings, " +
        "dashboard/vite.config.ts, run in Node.",
      from: { path: "^dashboard/", pathNot: "^dashboard/vite\\.config\\.ts$" },
      to: { dependencyTypes: ["core"] },
    },
    {
      name: "dashboard-packages-are-for-browsers",
      severity: "error",
      comment:
        "Every package in the dashboard is downloaded by a phone on a building site. These few were weighed; weigh the " +
        "next one too, make sure that it runs in a browser, then add it to this rule.",
      from: { path: "^dashboard/", pathNot: "^dashboard/vite\\.config\\.ts$" },
      to: {
        path: "(^|/)node_modules/",
        pathNot: "(^|/)node_modules/(@types/)?(react|react-dom|react-is|recharts|typebox)/",
      },
    },
    {
      name: "features-meet-in-app",
      severity: "error",
      comment:
        "A feature of the dashboard never imports another: it could then be neither removed nor loaded alone. Features " +
        "meet in dashboard/app/; what two of them need lives beside the features, not in one of them.",
      from: { path: "^dashboard/features/([^/]+)/" },
      to: { path: "^dashboard/features/", pathNot: "^dashboard/features/$1/" },
    },
    {
      name: "only-app-knows-features",
      severity: "error",
      comment:
        "Shared parts of the dashboard serve every feature and know none; only dashboard/app/ composes features.",
      from: { path: "^dashboard/", pathNot: "^dashboard/(app|features)/" },
      to: { path: "^dashboard/features/" },
    },
    {
      name: "simulator-speaks-mqtt",
      severity: "error",
      comment:
        "The simulated nodes must prove that any node can talk to the server from outside: they share core and contract " +
        "with it and nothing else. Only firmware-sim/demo.ts starts a server beside them.",
      from: { path: "^firmware-sim/", pathNot: "^firmware-sim/demo\\.ts$" },
      to: { path: programs, pathNot: [pure, "^firmware-sim/"] },
    },
    {
      name: "demo-starts-the-app",
      severity: "error",
      comment:
        "The demo starts the server as anybody would, by its composition (server/app.ts) and its settings. Reaching " +
        "past them would show something that the product does not do.",
      from: { path: "^firmware-sim/demo\\.ts$" },
      to: { path: programs, pathNot: [pure, "^firmware-sim/", "^server/(app|settings)\\.ts$"] },
    },
    {
      name: "nothing-imports-tests",
      severity: "error",
      comment: "Test code and its data are not shipped and not held to the product's rules; nothing may lean on them.",
      from: { pathNot: "^tests/" },
      to: { path: "^tests/" },
    },
    {
      name: "no-cycles",
      severity: "error",
      comment:
        "Two files that import each other are one file in two places: neither can be read, tested or loaded first. " +
        "Move what both need into a third. Type imports count: they tie the reader just as much.",
      from: {},
      to: { circular: true },
    },
    {
      name: "no-barrels",
      severity: "error",
      comment:
        "A file named index that gathers others hides where a thing lives, loads all for one, and breeds cycles. Import " +
        "from the file that has it.",
      from: { path: "(^|/)index\\.[cm]?[jt]sx?$", pathNot: "(^|/)node_modules/" },
      to: {},
    },
    {
      name: "packages-are-declared",
      severity: "error",
      comment:
        "This package is not in package.json, or only comes along with another: the next install may not have it, or " +
        "may have another version.",
      from: {},
      to: { dependencyTypes: ["npm-no-pkg", "npm-unknown"] },
    },
    {
      name: "no-development-packages",
      severity: "error",
      comment: "This package is a devDependency: it is missing where the product runs (npm ci --omit=dev).",
      from: { path: programs },
      to: { dependencyTypes: ["npm-dev"], pathNot: "(^|/)node_modules/@types/" },
    },
    {
      name: "imports-resolve",
      severity: "error",
      comment:
        "Nothing is found under this name. Imports carry the .ts extension; across folders use #core/ and #contract/.",
      from: {},
      to: { couldNotResolve: true },
    },
  ],
  options: {
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    doNotFollow: { path: "(^|/)node_modules/" },
    // Only our own build: packages keep their code in folders of this name too.
    exclude: { path: "^(dashboard|server)/dist/" },
    enhancedResolveOptions: {
      exportsFields: ["exports"],
      conditionNames: ["import", "types", "node", "default"],
      extensions: [".ts", ".tsx", ".js", ".mjs", ".cjs", ".json", ".css"],
    },
  },
};
