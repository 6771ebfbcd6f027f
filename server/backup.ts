// The command `npm run backup`: the whole data folder as one checked file, while the server runs or not.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { parseArgs } from "node:util";
import { makeBackup, sayChecked } from "./backup-make.ts";
import { backupName } from "./backup-name.ts";
import { settingsFromEnv } from "./settings.ts";

const HELP = `npm run backup -- [--to FILE] [--data FOLDER]

Writes everything that the server knows to one file, readable by you alone: readings, journal, calls, people, keys and
pictures, as they stood at one moment. The server may run meanwhile. The file is checked before it gets its name.

  --to FILE       default: nightslab-TIME.backup in NIGHTSLAB_BACKUP_DIR, or here
  --data FOLDER   default: NIGHTSLAB_DATA

Exit code 0 if it was made and all is sound, 1 if it was made and the chain of evidence is broken, 2 if it was not made.
`;

function run(words: readonly string[], env: Readonly<Record<string, string | undefined>>): number {
  const { values } = parseArgs({
    args: [...words],
    options: { to: { type: "string" }, data: { type: "string" }, help: { type: "boolean", default: false } },
  });
  if (values.help) {
    process.stdout.write(HELP);
    return 0;
  }
  const settings = settingsFromEnv(env);
  if (!settings.ok) throw new Error(settings.faults.map(({ field, reason }) => `${field} ${reason}`).join("\n"));
  const { data, backupDir = "." } = settings.value;
  const nowMs = Date.now();
  const made = makeBackup(values.data ?? data, values.to ?? join(backupDir, backupName(nowMs)), nowMs);
  const more = made.files === 0 ? "" : ` with ${made.files} more files`;
  process.stdout.write(`${made.path} (${made.bytes} bytes${more})\n${sayChecked(made).join("\n")}\n`);
  return made.broken === null ? 0 : 1;
}

if (existsSync(".env")) process.loadEnvFile(".env");
try {
  process.exitCode = run(process.argv.slice(2), process.env);
} catch (error) {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 2;
}
