// People of a data folder beside a server that may be running on it: for commands on the box.
import { existsSync } from "node:fs";
import { join } from "node:path";
import Libsql from "libsql";
import { DATABASE_FILE } from "./database.ts";
import type { PeopleStore } from "./people-ports.ts";
import { createPeopleStore } from "./people.ts";
import { wrap } from "./sql.ts";

/** How long to wait while a server writes, ms. */
const BUSY_MS = 5000;

/** Takes no hold of the folder, and changes nothing of the schema. Throws in plain words if nothing is there yet. */
export function openPeople(folder: string): { readonly people: PeopleStore; close(): void } {
  const file = join(folder, DATABASE_FILE);
  const nothing = () => new Error(`there are no people in the data folder ${folder}: start the server on it once`);
  if (!existsSync(file)) throw nothing();
  const db = wrap(new Libsql(file, { timeout: BUSY_MS }));
  if (db.prepare("SELECT 1 FROM sqlite_master WHERE name = 'people'").get() === undefined) {
    db.close();
    throw nothing();
  }
  return { people: createPeopleStore(db), close: () => db.close() };
}
