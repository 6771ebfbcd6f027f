// Settings of what is kept for how long, and secrets that stand in files.
import { readFileSync } from "node:fs";
import Type from "typebox";
import type { Fault } from "#contract/faults.ts";

const Days = (what: string, minimum: number, more: object) =>
  Type.Integer({ minimum, maximum: 36_500, range: `${minimum}..36500`, description: what, ...more });

export const keepingSettings = {
  backupDir: Type.Optional(
    Type.String({
      minLength: 1,
      maxLength: 4096,
      description: "folder that gets a backup each night, checked, when the day has been closed; best on another disk",
    }),
  ),
  backupKeep: Type.Integer({
    minimum: 1,
    maximum: 1000,
    default: 7,
    range: "1..1000",
    description: "nightly backups that stay in that folder; older ones go",
  }),
  keepRawDays: Days(
    "days after which readings are thinned to one in five minutes; the evidence of coats never is",
    30,
    { default: 400 },
  ),
  deleteAfterDays: Type.Optional(
    Days("days after which readings go altogether; the evidence of coats never does; unset = they stay", 31, {}),
  ),
};

interface Kept {
  readonly keepRawDays: number;
  readonly deleteAfterDays?: number;
}

/** What the settings of keeping cannot be together. */
export function keepingFaults({ keepRawDays, deleteAfterDays }: Kept): Fault[] {
  if (deleteAfterDays === undefined || deleteAfterDays > keepRawDays) return [];
  return [{ field: "/deleteAfterDays", reason: `must be more than keepRawDays (${keepRawDays})` }];
}

const SUFFIX = "_FILE";
type Env = Readonly<Record<string, string | undefined>>;

/** Puts what stands in the file of a secret (`NAME_FILE`) in place of its setting; faults name the variable. */
export function withSecretFiles(env: Env, secrets: readonly string[]): { readonly env: Env; readonly faults: Fault[] } {
  const whole: Record<string, string | undefined> = { ...env };
  const faults: Fault[] = [];
  for (const name of secrets) {
    const field = name + SUFFIX;
    const path = env[field]?.trim() ?? "";
    delete whole[field];
    if (path === "") continue;
    const fault = (reason: string) => void faults.push({ field, reason });
    if ((env[name]?.trim() ?? "") !== "") {
      fault(`stands beside ${name}: one of the two`);
      continue;
    }
    try {
      const text = readFileSync(path, "utf8").trim();
      if (text === "") fault(`names ${path}, which is empty`);
      else whole[name] = text;
    } catch (error) {
      fault(`names ${path}, which cannot be read: ${(error as NodeJS.ErrnoException).code ?? String(error)}`);
    }
  }
  return { env: whole, faults };
}
