// Known weaknesses of the packages that the product runs with: each must be explained in audit.json, or the gate fails.
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";

/** A finding that was looked at and lives on, with the reason why it cannot hurt here. */
export interface Allowed {
  readonly advisory: string;
  readonly package: string;
  readonly reason: string;
}

export type Judged =
  | { readonly kind: "answered"; readonly unexplained: readonly string[]; readonly gone: readonly string[] }
  | { readonly kind: "unanswered"; readonly why: string };

interface Report {
  readonly message?: unknown;
  readonly error?: { readonly summary?: unknown };
  readonly vulnerabilities?: Readonly<
    Record<string, { readonly via: readonly (string | { readonly url?: string; readonly title?: string })[] }>
  >;
}

/** What npm reports, against what is explained. A package that is hit only through another one is told under that one. */
export function judgeAudit(text: string, allowed: readonly Allowed[]): Judged {
  let report: Report;
  try {
    report = JSON.parse(text) as Report;
  } catch {
    return { kind: "unanswered", why: "npm gave no report" };
  }
  const { vulnerabilities } = report;
  if (vulnerabilities === undefined) {
    return { kind: "unanswered", why: String(report.message ?? report.error?.summary ?? "npm gave no report") };
  }
  const found = Object.entries(vulnerabilities).flatMap(([name, { via }]) =>
    via.flatMap((one) =>
      typeof one === "string" ? [] : [{ name, advisory: one.url?.split("/").at(-1) ?? "", title: one.title ?? "" }],
    ),
  );
  const isExplained = (one: { name: string; advisory: string }) =>
    allowed.some((of) => of.advisory === one.advisory && of.package === one.name && of.reason.trim() !== "");
  return {
    kind: "answered",
    unexplained: found
      .filter((one) => !isExplained(one))
      .map(({ name, advisory, title }) => `${name}: ${title} (${advisory})`),
    gone: allowed
      .filter((of) => !found.some((one) => one.advisory === of.advisory && one.name === of.package))
      .map((of) => `${of.package} ${of.advisory}`),
  };
}

function askNpm(root: string): Promise<string> {
  return new Promise((resolve) => {
    const child = spawn("npm", ["audit", "--omit=dev", "--json", "--fetch-retries=0", "--fetch-timeout=20000"], {
      cwd: root,
      stdio: ["ignore", "pipe", "ignore"],
      // On Windows npm is a script.
      shell: process.platform === "win32",
    });
    let text = "";
    child.stdout.on("data", (piece: Buffer) => (text += piece.toString()));
    child.once("error", () => resolve(""));
    child.once("close", () => resolve(text));
  });
}

export async function audit(root: string): Promise<Judged> {
  const allowed = JSON.parse(readFileSync(new URL("audit.json", import.meta.url), "utf8")) as Allowed[];
  return judgeAudit(await askNpm(root), allowed);
}
