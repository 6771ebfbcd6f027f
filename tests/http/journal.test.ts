// The journal over HTTP: reading a part of it, and adding entries of every kind by their own schemas.
import Type from "typebox";
import { afterEach, beforeEach, expect, it } from "vitest";
import { type EntryBody, JournalEntrySchema } from "#contract/journal.ts";
import { type Door, openDoor } from "../support/http-door.ts";
import { at, SAMPLE_JOURNAL } from "../support/sample-site.ts";

const JOURNAL = "/sites/boathouse/journal";
const Page = Type.Object({ entries: Type.Array(JournalEntrySchema) }, { additionalProperties: false });
let door: Door;
beforeEach(async () => {
  door = await openDoor();
});
afterEach(() => door.app.close());

const read = async (query: string) =>
  (await door.fits(Page, 200, "GET", JOURNAL + query)).entries.map((entry) => entry.id);
const faultsOf = async (body: unknown) => (await door.refused(422, "POST", JOURNAL, body)).faults;

it("is read whole, by zone, and since a time", async () => {
  expect((await door.fits(Page, 200, "GET", JOURNAL)).entries).toEqual(SAMPLE_JOURNAL);
  expect(await read("?zone=office")).toEqual(["e-5"]);
  expect(await read(`?from=${at(-6)}`)).toEqual(["e-4", "e-5"]);
  expect((await door.refused(400, "GET", `${JOURNAL}?from=yesterday`)).faults?.[0]?.field).toBe("/from");
});

it("takes an entry, and gives it back with id, who and when it was heard", async () => {
  const entry: EntryBody = { at: at(-0.1), zone: "slip", by: "Ana", did: "inspected", film: "hard" };
  const stored = await door.fits(JournalEntrySchema, 201, "POST", JOURNAL, entry);
  expect(stored).toEqual({ ...entry, id: "e-6", heardAt: at(0) });
  expect((await door.fits(JournalEntrySchema, 201, "POST", JOURNAL, { ...entry, by: undefined })).by).toBeNull();
});

it("takes an entry once that is sent twice, and refuses another under its id", async () => {
  const entry = { id: "phone-1", at: at(-0.1), zone: "slip", did: "cleaned" };
  const first = await door.fits(JournalEntrySchema, 201, "POST", JOURNAL, entry);
  expect(await door.fits(JournalEntrySchema, 201, "POST", JOURNAL, entry)).toEqual(first);
  expect(await read("?zone=slip")).toEqual(["e-1", "e-2", "e-3", "phone-1"]);
  expect((await door.refused(409, "POST", JOURNAL, { ...entry, did: "washed" })).faults?.[0]?.field).toBe("/id");
});

it("refuses the time of hearing from outside: it would rewrite what past calls knew", async () => {
  const faults = await faultsOf({ at: at(-9), heardAt: at(-9), zone: "slip", did: "cleaned" });
  expect(faults).toEqual([{ field: "/heardAt", reason: "is set by the server" }]);
});

it.each([
  [{ did: "polished", at: at(0), zone: "slip" }, "/did"],
  [{ at: at(0), zone: "slip" }, "/did"],
  [null, "/did"],
  [{ did: "poured", at: at(0), zone: "slip", coat: 1, from: at(-1) }, "/to"],
  [{ did: "poured", at: at(0), zone: "slip", coat: 1, from: at(-1), to: at(-2) }, "/to"],
  [{ did: "held", at: at(0), zone: "slip", why: "" }, "/why"],
  [{ did: "cleaned", at: at(0) }, "/zone"],
  [{ did: "cleaned", at: "2026-02-30T10:00:00Z", zone: "slip" }, "/at"],
  [{ did: "cleaned", at: at(0), zone: "slip", with: "broom" }, "/with"],
  [{ did: "cleaned", at: at(0), zone: "slip", solvent: true }, "/confirmed"],
  [{ did: "washed", at: at(0), zone: "slip", solvent: true, confirmed: false }, "/confirmed"],
  [{ did: "pouring", at: at(0), zone: "slip", coat: 1, solvent: true }, "/confirmed"],
  [{ did: "inspected", at: at(0), zone: "slip", film: "hard", solvent: true, confirmed: true }, "/solvent"],
])("names the field of %j", async (body, field) => {
  expect((await faultsOf(body))?.[0]?.field).toBe(field);
});

it("takes a step with solvent that is confirmed, and one that says nothing of it as it always did", async () => {
  const solvent = { at: at(-0.1), zone: "slip", did: "cleaned", solvent: true, confirmed: true };
  expect(await door.fits(JournalEntrySchema, 201, "POST", JOURNAL, solvent)).toMatchObject(solvent);
  const plain = await door.fits(JournalEntrySchema, 201, "POST", JOURNAL, {
    at: at(-0.1),
    zone: "slip",
    did: "washed",
  });
  expect(plain).not.toHaveProperty("solvent");
});

it("is kept by site", async () => {
  const body = { at: at(0), zone: "slip", did: "cleaned" };
  expect((await door.refused(404, "POST", "/sites/depot/journal", body)).faults?.[0]?.field).toBe("/site");
});
