// The night files of tests/cases, read as the replay command reads them.
import { readdirSync, readFileSync } from "node:fs";
import { sayFaults } from "#contract/faults.ts";
import { type NightFile, readNightFile } from "#contract/night-file.ts";

export const casesFolder = new URL("../cases/", import.meta.url).pathname;

export const caseFiles = readdirSync(casesFolder)
  .filter((name) => name.endsWith(".json"))
  .sort();

export function readCase(name: string): NightFile {
  const night = readNightFile(JSON.parse(readFileSync(casesFolder + name, "utf8")));
  if (!night.ok) throw new Error(`${name}: ${sayFaults(night.faults)}`);
  return night.value;
}
