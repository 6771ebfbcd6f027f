// The outside programs that the tests drive: what they are called, which Debian package brings each, where each one is.
import { accessSync, constants, readFileSync } from "node:fs";
import { delimiter, join } from "node:path";

/** One line of `.ci/debian-packages.txt`, the only list of Debian packages in the project. */
export interface OutsideProgram {
  package: string;
  command: string;
}

const listFile = new URL("debian-packages.txt", import.meta.url);

/** Programs from the text of such a list, in its order. */
export function readProgramList(text: string): OutsideProgram[] {
  return text
    .split("\n")
    .map((line) => line.replace(/#.*/, "").trim())
    .filter((line) => line !== "")
    .map((line) => {
      const [name = "", command = name] = line.split(/\s+/);
      return { package: name, command };
    });
}

/** Every outside program the tests need. */
export function outsidePrograms(): OutsideProgram[] {
  return readProgramList(readFileSync(listFile, "utf8"));
}

/** Full path of a command, or null. The sbin folders are searched too: daemons live there and users' PATH omits them. */
export function findProgram(command: string): string | null {
  const folders = [...(process.env["PATH"] ?? "").split(delimiter), "/usr/sbin", "/sbin", "/usr/local/sbin"];
  for (const folder of folders.filter((f) => f !== "")) {
    const path = join(folder, command);
    try {
      accessSync(path, constants.X_OK);
      return path;
    } catch {
      continue;
    }
  }
  return null;
}

/** Full path of a command that the preflight has already made sure of. */
export function programPath(command: string): string {
  const path = findProgram(command);
  if (path === null) throw new Error(`${command} is not installed; see .ci/debian-packages.txt`);
  return path;
}
