// Certificates of a private authority, made by the product's own command in a folder of the test's.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));

export function runCertificates(...words: string[]): { code: number | null; stdout: string; stderr: string } {
  const args = ["--import", "tsx", "server/certificates.ts", ...words];
  const run = spawnSync(process.execPath, args, { cwd: root, encoding: "utf8" });
  return { code: run.status, stdout: run.stdout, stderr: run.stderr };
}

export interface MadeCertificates {
  readonly folder: string;
  readonly cert: string;
  readonly key: string;
  /** Text of the authority's certificate. */
  readonly ca: string;
  remove(): void;
}

export function makeCertificates(...words: string[]): MadeCertificates {
  const folder = mkdtempSync(join(tmpdir(), "nightslab-certificates-"));
  const run = runCertificates("--out", folder, "--names", "localhost,127.0.0.1", ...words);
  if (run.code !== 0) throw new Error(run.stderr);
  return {
    folder,
    cert: join(folder, "server.pem"),
    key: join(folder, "server-key.pem"),
    ca: readFileSync(join(folder, "ca.pem"), "utf8"),
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}
