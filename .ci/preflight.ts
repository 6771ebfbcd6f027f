// Runs before any test: makes sure of the outside programs, so that no test has a reason to skip itself in silence.
import { spawnSync } from "node:child_process";
import { existsSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { findProgram, outsidePrograms, programPath } from "./programs.ts";

const policyFile = "/usr/sbin/policy-rc.d";

function run(command: string, args: string[]): void {
  const done = spawnSync(command, args, {
    stdio: ["ignore", process.stderr, process.stderr],
    env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
  });
  if (done.error !== undefined) throw done.error;
  if (done.status !== 0) throw new Error(`'${command} ${args.join(" ")}' ended with ${done.status ?? done.signal}`);
}

/**
 * Installs Debian packages without starting any service they bring: a broker that Debian starts by itself would listen
 * on port 1883 and stand in the way of the one that a test or a person starts. Debian asks policy-rc.d before starting
 * a service; 101 answers no. A policy that is already there is left alone.
 */
export function installQuietly(packages: string[]): void {
  console.error(`preflight: installing ${packages.join(", ")}`);
  const ownPolicy = !existsSync(policyFile);
  if (ownPolicy) writeFileSync(policyFile, "#!/bin/sh\nexit 101\n", { mode: 0o755 });
  try {
    run("apt-get", ["update", "-qq"]);
    run("apt-get", ["install", "-y", "-qq", "--no-install-recommends", ...packages]);
  } finally {
    if (ownPolicy) rmSync(policyFile, { force: true });
  }
}

/** Makes sure of `programs`; the first argument is the test runner's own and not used. Throws if any stays missing. */
export default function setup(_runner?: unknown, programs = outsidePrograms(), install = installQuietly): void {
  const missing = programs.filter((program) => findProgram(program.command) === null);
  if (missing.length === 0) return;
  const names = missing.map((program) => program.package);
  if (process.getuid?.() === 0 && findProgram("apt-get") !== null) install(names);
  const still = missing.filter((program) => findProgram(program.command) === null);
  if (still.length > 0) {
    const list = still.map((program) => program.package).join(" ");
    throw new Error(`the tests need these programs: ${list} (on Debian, as root: apt-get install ${list})`);
  }
}

// Started as a program of its own (.ci/run does): makes sure, and tells what is there.
if (process.argv[1] === fileURLToPath(import.meta.url)) {
  setup();
  for (const { package: name, command } of outsidePrograms()) {
    const version = spawnSync("dpkg-query", ["-W", "-f", "${Version}", name], { encoding: "utf8" }).stdout ?? "";
    console.log(`${name} ${version} ${programPath(command)}`);
  }
}
