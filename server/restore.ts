// The command `npm run restore`: a backup in the place of the data folder, with the server stopped.
import { existsSync } from "node:fs";
import { parseArgs } from "node:util";
import { sayChecked } from "./backup-make.ts";
import { restoreBackup } from "./restore-make.ts";
import { settingsFromEnv } from "./settings.ts";

const HELP = `npm run restore -- FILE [--data FOLDER] [--broken]

Puts a backup (npm run backup), or a copy that the server made before a step forward, in the place of the data folder. The
server must be stopped. The file is checked first; the former folder stays beside it, with the time in its name.

  --data FOLDER   default: NIGHTSLAB_DATA
  --broken        restores also where the chain of evidence in the file is broken

Exit code 0 if it was restored, 2 if nothing was changed.
`;

function run(words: readonly string[], env: Readonly<Record<string, string | undefined>>): number {
  const { values, positionals } = parseArgs({
    args: [...words],
    allowPositionals: true,
    options: {
      ...{ data: { type: "string" as const }, broken: { type: "boolean" as const, default: false } },
      help: { type: "boolean", default: false },
    },
  });
  const [file, ...more] = positionals;
  if (values.help || file === undefined || more.length > 0) {
    process.stdout.write(HELP);
    return values.help ? 0 : 2;
  }
  const settings = settingsFromEnv(env);
  if (!settings.ok) throw new Error(settings.faults.map(({ field, reason }) => `${field} ${reason}`).join("\n"));
  const done = restoreBackup(file, values.data ?? settings.value.data, Date.now(), values.broken);
  const of = done.madeMs === null ? "" : ` as of ${new Date(done.madeMs).toISOString()}`;
  const former = done.former === null ? "" : `What stood there before is in ${done.former}\n`;
  process.stdout.write(`${done.folder} restored${of}\n${former}${sayChecked(done).join("\n")}\n`);
  return 0;
}

if (existsSync(".env")) process.loadEnvFile(".env");
try {
  process.exitCode = run(process.argv.slice(2), process.env);
} catch (error) {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 2;
}
