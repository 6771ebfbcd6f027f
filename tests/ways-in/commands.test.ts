// The commands on the box: certificates that others accept, and ways back in beside a running server.
import { execFileSync, spawnSync } from "node:child_process";
import { readFileSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { askUrl } from "../support/ask-url.ts";
import { makeCertificates, type MadeCertificates, runCertificates } from "../support/made-certificates.ts";
import { type RunningApp, runApp } from "../support/running-app.ts";

const root = fileURLToPath(new URL("../..", import.meta.url));

describe("npm run certificates", () => {
  let made: MadeCertificates;
  beforeAll(() => {
    made = makeCertificates("--nodes", "slip-1", "--site", "boathouse");
  });
  afterAll(() => made.remove());
  const openssl = (...words: string[]) => execFileSync("openssl", words, { encoding: "utf8" });

  it("makes what a second implementation of X.509 accepts", () => {
    const ca = join(made.folder, "ca.pem");
    expect(
      openssl("verify", "-x509_strict", "-purpose", "sslserver", "-verify_ip", "127.0.0.1", "-CAfile", ca, made.cert),
    ).toContain("OK");
    expect(
      openssl("verify", "-x509_strict", "-purpose", "sslclient", "-CAfile", ca, join(made.folder, "node-slip-1.pem")),
    ).toContain("OK");
    const text = openssl("x509", "-in", made.cert, "-noout", "-text");
    expect(text).toContain("DNS:localhost, IP Address:127.0.0.1");
    expect(text).toContain("NIST CURVE: P-256");
    // Browsers refuse more than 398 days (CA/Browser Forum Baseline Requirements 6.3.2, as of 2020-09).
    expect(spawnSync("openssl", ["x509", "-in", made.cert, "-noout", "-checkend", String(398 * 86_400)]).status).toBe(
      1,
    );
    expect(spawnSync("openssl", ["x509", "-in", made.cert, "-noout", "-checkend", String(390 * 86_400)]).status).toBe(
      0,
    );
  });
  it("leaves every file to its owner alone", () => {
    for (const file of ["ca-key.pem", "server-key.pem", "node-slip-1-key.pem", "ca.pem"])
      expect(statSync(join(made.folder, file)).mode & 0o777, file).toBe(0o600);
  });
  it("overwrites nothing, and uses an authority that is there", () => {
    const before = readFileSync(made.cert, "utf8");
    const again = runCertificates("--out", made.folder, "--names", "box.example");
    expect([again.code, again.stderr]).toEqual([2, expect.stringContaining("is not overwritten")]);
    expect(readFileSync(made.cert, "utf8")).toBe(before);
    expect(runCertificates("--out", made.folder, "--nodes", "slip-2").code).toBe(0);
    expect(readFileSync(join(made.folder, "ca.pem"), "utf8")).toBe(made.ca);
    expect(openssl("verify", "-CAfile", join(made.folder, "ca.pem"), join(made.folder, "node-slip-2.pem"))).toContain(
      "OK",
    );
  });
  it("says what is wrong with what it was given", () => {
    expect(runCertificates("--out", made.folder, "--names", "a b")).toMatchObject({
      code: 2,
      stderr: '"a b" is no name of a server\n',
    });
    expect(runCertificates("--names", "a")).toMatchObject({ code: 2 });
  });
});

describe("npm run people", () => {
  let running: RunningApp;
  beforeAll(async () => {
    running = await runApp({ settings: { accounts: "on" } });
  });
  afterAll(() => running.end());
  const people = (...words: string[]) =>
    spawnSync(process.execPath, ["--import", "tsx", "server/people-command.ts", ...words], {
      cwd: root,
      encoding: "utf8",
      env: { ...process.env, NIGHTSLAB_DATA: running.data },
    });
  const codeIn = (text: string) => /([A-Z2-9]{4}-){3}[A-Z2-9]{4}/.exec(text)?.[0] ?? "";
  const post = (path: string, body: object) => askUrl(`${running.httpUrl}/api/v1${path}`, { method: "POST", body });

  it("lets the first owner in, and a forgotten password be set anew, while the server runs", async () => {
    const first = people("first-owner");
    expect(first.status, first.stderr).toBe(0);
    const owner = await post("/first-owner", {
      code: codeIn(first.stdout),
      name: "Ada Ruiz",
      password: "seven otters under a jetty",
    });
    expect(owner.status).toBe(200);
    expect(people("first-owner").status).toBe(2);
    expect(people("list").stdout).toBe("Ada Ruiz\towner\tevery site\n");

    const reset = people("reset", "ada", "ruiz");
    expect(reset.status, reset.stderr).toBe(0);
    const answer = await post("/reset", { token: codeIn(reset.stdout), password: "a lantern for the tide gate" });
    expect(answer.status).toBe(200);
    expect((await askUrl(`${running.httpUrl}/api/v1/sites`, { headers: { cookie: owner.cookie } })).status).toBe(401);
    const lines = await askUrl(`${running.httpUrl}/api/v1/audit`, { headers: { cookie: answer.cookie } });
    expect(lines.body).toContain('"code for a new password"');
  });
  it("says so when nobody has the name, or nothing is there", () => {
    expect(people("reset", "Nobody")).toMatchObject({
      status: 2,
      stderr: expect.stringContaining('nobody is called "Nobody"'),
    });
    expect(people("drop", "Ada")).toMatchObject({ status: 2 });
  });
});
