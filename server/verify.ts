// The command that checks an exported job offline, and names the first link that is broken.
import type { Broken } from "./record/check-links.ts";
import { type Checked, checkJob } from "./record/check-job.ts";
import { readJob } from "./record/job-files.ts";

const HELP = `Checks an exported job offline: journal, calls, readings, heads of the days, pictures.

  npm run --silent verify -- FILE.zip|FOLDER [--head HASH]

--head HASH demands that a head known from outside (printed, sent) is in the chain.
Exit code 0 if all is as it was, 1 if a link is broken (the first is named), 2 if it cannot be read.`;

export function sayBroken({ day, kind, index, id, what, expected, found }: Broken): string {
  const where = [day, kind, index === null ? null : `line ${index}`, id === null ? null : `(${id})`].filter(
    (part) => part !== null,
  );
  return `broken: ${where.join(" ")}: ${what}\n  expected ${expected}\n  found    ${found}`;
}

function saySound(sound: Extract<Checked, { ok: true }>): string {
  const { site, days, entries, calls, readings, photos, lastDay, lastHead, lastClosed, thinnedSeries, thinnedDays } =
    sound;
  return [
    `${site}: ${days} days, ${entries} entries, ${calls} calls, ${readings} readings, ${photos} pictures: as they were kept`,
    ...(thinnedSeries === 0
      ? []
      : [
          `${thinnedSeries} series on ${thinnedDays} days were thinned by age: their digests stand, their rows are no longer here to be held against them`,
        ]),
    `last head ${lastDay}${lastClosed ? "" : " (day not over)"}: ${lastHead}`,
    "Compare it with one that was printed or sent: a chain cannot show by itself that its end was cut off.",
  ].join("\n");
}

/** Gives the exit code; what is said goes to `say`. */
export function verify(args: readonly string[], say: (line: string) => void): number {
  const at = args.indexOf("--head");
  const wanted = at < 0 ? null : (args[at + 1] ?? "");
  const [path, ...more] = args.filter((_, index) => at < 0 || (index !== at && index !== at + 1));
  if (path === undefined || path === "--help" || more.length > 0) {
    say(HELP);
    return path === "--help" ? 0 : 2;
  }
  let checked: Checked;
  try {
    checked = checkJob(readJob(path), wanted);
  } catch (error) {
    say(`${path}: cannot be read: ${error instanceof Error ? error.message : String(error)}`);
    return 2;
  }
  say(checked.ok ? saySound(checked) : sayBroken(checked.broken));
  return checked.ok ? 0 : 1;
}

// Imported by tests, run as a command.
if (process.argv[1] !== undefined && import.meta.url.endsWith(process.argv[1].split("/").at(-1) ?? "")) {
  process.exitCode = verify(process.argv.slice(2), (line) => process.stdout.write(`${line}\n`));
}
