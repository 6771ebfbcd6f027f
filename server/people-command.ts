// The command `npm run people`: who there is, and ways back in for whoever stands at the box.
import { existsSync } from "node:fs";
import { firstOwnerCode, resetByName } from "./people/tickets.ts";
import { settingsFromEnv } from "./settings.ts";
import { openPeople } from "./store/people-open.ts";

const HELP = `npm run people -- list                who has an account, with role and sites
npm run people -- reset NAME          a code with which that person sets a new password
npm run people -- first-owner         a code that makes the first owner, while there is none

Works while the server runs and while it does not, on the data folder of the settings (NIGHTSLAB_DATA).
`;

function run(words: readonly string[], env: Readonly<Record<string, string | undefined>>): number {
  const say = (text: string) => process.stdout.write(`${text}\n`);
  const fail = (text: string) => {
    process.stderr.write(`${text}\n`);
    return 2;
  };
  const [what, ...rest] = words;
  const name = rest.join(" ").trim();
  if (what === undefined || what === "--help") {
    process.stdout.write(HELP);
    return what === undefined ? 2 : 0;
  }
  const fits = what === "reset" ? name !== "" : ["list", "first-owner"].includes(what) && name === "";
  if (!fits) return fail(HELP.trimEnd());
  const settings = settingsFromEnv(env);
  if (!settings.ok) return fail(settings.faults.map(({ field, reason }) => `${field} ${reason}`).join("\n"));
  const { people, close } = openPeople(settings.value.data);
  const note = (did: string, about: string) =>
    people.note({ ...{ atMs: Date.now(), who: null, role: null, site: null }, did, about, address: "this machine" });
  try {
    if (what === "list") {
      for (const { name: of, role, sites } of people.people())
        say(`${of}\t${role}\t${sites?.join(", ") ?? "every site"}`);
      return 0;
    }
    if (what === "first-owner") {
      const code = firstOwnerCode(people, Date.now());
      if (code === null) return fail("there is an owner already: npm run people -- list");
      note("code for the first owner", "");
      say(`Open the dashboard and type this code within 24 hours; it works once:\n\n    ${code}`);
      return 0;
    }
    const made = resetByName(people, name, Date.now());
    if (made === null) return fail(`nobody is called "${name}": npm run people -- list`);
    note("code for a new password", name);
    say(
      `Open the dashboard at ${made.path} within 24 hours and choose a new password; it works once:\n\n    ${made.token}\n\nThe old password holds until then. When the new one is set, every phone of ${name} is signed out.`,
    );
    return 0;
  } finally {
    close();
  }
}

if (existsSync(".env")) process.loadEnvFile(".env");
try {
  process.exitCode = run(process.argv.slice(2), process.env);
} catch (error) {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = 2;
}
