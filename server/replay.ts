// The command that judges night files: one JSON object a line, one per ask, in the order of the file.
import { readFileSync } from "node:fs";
import { bodyFromCall } from "#contract/call.ts";
import { sayFaults } from "#contract/faults.ts";
import { readNightFile } from "#contract/night-file.ts";
import { judgeZone } from "#core/judge/judge.ts";

const HELP = `Judges night files with the same code as the live server.

  npm run --silent replay -- FILE...

Prints one JSON object a line, one per ask of each file, in its order.
Exit code 0 if all files could be judged, 2 if one could not: the message names the file and the field.`;

/** A night file that cannot be judged: which file, and why. */
class Unfit extends Error {}

function reasonOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}

function parse(file: string): unknown {
  let text: string;
  try {
    text = readFileSync(file, "utf8");
  } catch (error) {
    throw new Unfit(`${file}: cannot be read: ${reasonOf(error)}`);
  }
  try {
    return JSON.parse(text);
  } catch (error) {
    throw new Unfit(`${file}: is not JSON: ${reasonOf(error)}`);
  }
}

/** The lines that replaying one file gives. Throws Unfit with file, field and reason. */
export function replayFile(file: string): string[] {
  const night = readNightFile(parse(file));
  if (!night.ok) throw new Unfit(`${file}: ${sayFaults(night.faults)}`);
  return night.value.ask.map(({ atMs, zone }, index) => {
    try {
      return JSON.stringify(bodyFromCall(judgeZone(night.value.log, zone, atMs).call));
    } catch (error) {
      // Such as a part of a zone that had not been split by then.
      if (error instanceof RangeError) throw new Unfit(`${file}: /ask/${index}: ${error.message}`);
      throw error;
    }
  });
}

function main(files: readonly string[]): number {
  if (files.length === 0 || files.includes("--help")) {
    process.stdout.write(`${HELP}\n`);
    return files.length === 0 ? 2 : 0;
  }
  let exitCode = 0;
  for (const file of files) {
    try {
      for (const line of replayFile(file)) process.stdout.write(`${line}\n`);
    } catch (error) {
      if (!(error instanceof Unfit)) throw error;
      process.stderr.write(`${error.message}\n`);
      exitCode = 2;
    }
  }
  return exitCode;
}

// Imported by tests, run as a command.
if (process.argv[1] !== undefined && import.meta.url.endsWith(process.argv[1].split("/").at(-1) ?? "")) {
  process.exitCode = main(process.argv.slice(2));
}
