// Journal entries on the wire: every kind there and back, and faults that name their field.
import { describe, expect, it } from "vitest";
import { bodyFromEntry, entryFromBody, readEntryBody } from "#contract/journal.ts";
import { msFromIso } from "#contract/primitives.ts";

const at = "2026-02-03T12:00:00-07:00";
const AT_MS = Date.UTC(2026, 1, 3, 19);
const common = { id: "e-1", at, heardAt: "2026-02-03T19:05:00Z", zone: "a", by: "R. Oyelaran" };

const bodies: readonly { readonly did: string; readonly [field: string]: unknown }[] = [
  { did: "poured", coat: 1, from: "2026-02-03T18:00:00Z", to: "2026-02-03T19:00:00Z", broadcast: "full" },
  {
    did: "poured",
    coat: 0,
    from: "2026-02-03T18:00:00Z",
    to: "2026-02-03T19:00:00Z",
    product: "barrier primer, grey",
    batches: [{ part: "A", number: "L2601-07" }, { number: "H88" }],
    people: ["R. Oyelaran", "T. Brandvold"],
    undoes: "e-0",
    why: "the batch number was misread",
  },
  { did: "pouring", coat: 0 },
  { did: "abraded", how: "120 grit screen" },
  { did: "washed" },
  { did: "cleaned", undoes: "e-0" },
  { did: "inspected", surface: "greasy", film: "hard" },
  {
    did: "measured",
    slabC: 12.5,
    airC: 14,
    rhPct: 61,
    resinC: 20,
    instrument: "hand meter 2",
    calibratedOn: "2026-01-09",
    probe: "n1/slab.2",
  },
  { did: "salt-bagged", probe: "n1/rh", salt: "magnesium-chloride" },
  { did: "salt-checked", probe: "n1/rh", salt: "sodium-chloride", soakH: 12.5, readPct: 73.1, airC: 19 },
  { did: "tested", method: "F2170", rhPct: 78, spot: "north" },
  { did: "tested", method: "F1869", mverLb: 4.2 },
  { did: "profile", csp: 3, profileUm: 410, how: "replica tape", spot: "north" },
  { did: "adhesion", mpa: 1.9, how: "D7234", failure: "concrete", spot: "north" },
  { did: "photographed", photo: "ab".repeat(32), of: "probe", probe: "n1/slab", note: "beside the door" },
  { did: "ventilated", on: true, how: "two fans, door open" },
  { did: "filled", hardAfterH: 8 },
  { did: "coat-added", sheet: "e1" },
  { did: "forecast", lowC: -4, dewPointC: -8, until: "2026-02-04T14:00:00Z" },
  {
    did: "heating",
    on: true,
    vented: false,
    kW: 88,
    fuel: "propane",
    from: at,
    to: "2026-02-04T14:00:00Z",
    targetC: 18,
  },
  { did: "held", why: "welding above" },
  { did: "released" },
  { did: "overrode", call: "pour", why: "tarp over the door" },
  {
    did: "split",
    into: [
      { id: "a-1", areaM2: 20, probes: ["n1/slab.2"] },
      { id: "a-2", areaM2: 30, name: "South" },
    ],
  },
  { did: "moved", probe: "n1/slab", place: "door edge", xM: 1, yM: 2 },
  { did: "retired", probe: "n1/air" },
  { did: "trusted", probe: "n1/rh", why: "checked beside a salt jar" },
  { did: "undone", undoes: "e-0" },
];

describe("an entry of each kind", () => {
  it.each(bodies)("$did", (fields) => {
    const read = readEntryBody({ ...common, ...fields });
    if (!read.ok) throw new Error(JSON.stringify(read.faults));
    const entry = entryFromBody(read.value, "other", 7);
    expect(entry).toMatchObject({ id: "e-1", atMs: AT_MS, heardMs: AT_MS + 300_000, zone: "a", did: fields.did });
    const back = bodyFromEntry(entry);
    expect(readEntryBody(back).ok).toBe(true);
    expect(entryFromBody(back, "other", 7)).toEqual(entry);
    expect(Object.keys(back).sort()).toEqual(Object.keys({ ...common, ...fields }).sort());
  });

  it("takes id and time of hearing from outside where the body leaves them out", () => {
    const read = readEntryBody({ at, zone: "a", did: "washed" });
    expect(read.ok && entryFromBody(read.value, "given", 42)).toEqual({
      id: "given",
      heardMs: 42,
      atMs: AT_MS,
      zone: "a",
      by: null,
      did: "washed",
    });
  });
});

describe("a fault", () => {
  const faults: [body: object, field: string, reason: RegExp][] = [
    [{ did: "painted" }, "/did", /must be one of poured/],
    [{}, "/did", /must be one of/],
    [{ did: "toString" }, "/did", /must be one of/],
    [{ did: "washed", zone: undefined }, "/zone", /is missing/],
    [{ did: "salt-bagged", probe: "n1/air", salt: "sodium-chloride" }, "/probe", /is no humidity/],
    [{ did: "salt-bagged", probe: "n1/rh", salt: "sugar" }, "/salt", /./],
    [{ did: "salt-checked", probe: "n1/rh", salt: "sodium-chloride", soakH: 9, readPct: 70, airC: 51 }, "/airC", /50/],
    [{ did: "washed", zone: null }, "/zone", /is missing/],
    [{ did: "washed", colour: 1 }, "/colour", /not a known field/],
    [{ did: "washed", at: "yesterday" }, "/at", /pattern/],
    [{ did: "washed", at: "2026-02-29T10:00:00Z" }, "/at", /does not exist/],
    [{ did: "washed", heardAt: "2026-02-03T18:50:00Z" }, "/heardAt", /before the entry's own time/],
    [{ did: "pouring" }, "/coat", /is missing/],
    [{ did: "pouring", coat: 1.5 }, "/coat", /integer/],
    [{ did: "poured", coat: 0, from: at, to: "2026-02-03T18:00:00Z" }, "/to", /before from/],
    [{ did: "heating", on: true, from: at, to: "2026-02-03T18:00:00Z" }, "/to", /before from/],
    [{ did: "inspected" }, "/surface", /is missing/],
    [{ did: "inspected", surface: "nice" }, "/surface", /./],
    [{ did: "measured" }, "/slabC", /is missing/],
    [{ did: "measured", rhPct: 101 }, "/rhPct", /<= 100/],
    [{ did: "tested", method: "F2170" }, "/rhPct", /is missing/],
    [{ did: "tested", method: "F1869", rhPct: 80 }, "/mverLb", /is missing/],
    [{ did: "filled", hardAfterH: 0 }, "/hardAfterH", /> 0/],
    [{ did: "held", why: "" }, "/why", /fewer than 1/],
    [{ did: "split", into: [{ id: "one", areaM2: 3 }] }, "/into", /fewer than 2/],
    [{ did: "retired", probe: "slab" }, "/probe", /pattern/],
    [{ did: "undone" }, "/undoes", /is missing/],
  ];
  it.each(faults)("%j -> %s", (body, field, reason) => {
    const read = readEntryBody({ at, zone: "a", ...body });
    expect(read.ok).toBe(false);
    expect(!read.ok && read.faults.map((fault) => fault.field)).toContain(field);
    expect(!read.ok && read.faults.find((fault) => fault.field === field)?.reason).toMatch(reason);
  });

  it("may stand for the whole site only where that makes sense", () => {
    expect(readEntryBody({ at, did: "heating", on: false }).ok).toBe(true);
    expect(readEntryBody({ at, did: "forecast", lowC: 1, dewPointC: 0, until: at }).ok).toBe(true);
    expect(readEntryBody({ at, did: "held", why: "all" }).ok).toBe(false);
    expect(readEntryBody("washed").ok).toBe(false);
    expect(Number.isNaN(msFromIso("2026-02-03T12:00:00"))).toBe(true);
  });
});
