// Forms of the journal: every act makes an entry that the contract takes, or names the field that is wrong.
import { describe, expect, it } from "vitest";
import type { BoardZoneBody } from "#contract/board.ts";
import { type EntryBody, readEntryBody } from "#contract/journal.ts";
import { type Act, DAILY_ACTS, firstActs, RARE_ACTS } from "../../dashboard/features/journal/acts.ts";
import { batchesFrom, type Draft, entryOf } from "../../dashboard/features/journal/entry-of.ts";
import { entryWords } from "../../dashboard/features/journal/entry-words.ts";
import { bringsSolvent, heaterSinceMs } from "../../dashboard/features/journal/solvent.ts";
import { firstDraft, takenBack } from "../../dashboard/features/journal/standing.ts";
import { sampleBoard } from "../support/sample-night.ts";
import { EPOXY } from "../support/sample-takeoff.ts";
import { sampleJournal, sampleSheets } from "../support/sample-zone.ts";
import { DICTIONARIES, NOW_MS, voiceOf } from "./voice.ts";

const setting = {
  zone: "slip",
  nowMs: NOW_MS,
  by: " Rosa ",
  units: "us" as const,
  timezone: "America/Chicago",
  text: DICTIONARIES.en,
};
const zone = (id: string) => sampleBoard().zones.find((item) => item.zone.id === id) as BoardZoneBody;

const FILLED: Record<Act, Draft> = {
  pouring: { coat: "1", ago: "15" },
  poured: { coat: "1", from: "2026-02-03T04:30", to: "2026-02-03T06:00", broadcast: "full" },
  abraded: { how: "screened" },
  washed: {},
  cleaned: {},
  inspected: { surface: "clean", film: "hard" },
  measured: { slab: "53.6", air: "59", humidity: "60", resin: "", instrument: "hand meter" },
  heatingOn: { exhaust: "vented", fuel: "propane", power: "150" },
  heatingOff: {},
  held: { why: "Water on the floor" },
  released: {},
  forecast: { low: "23", dew: "14", until: "2026-02-03T20:00" },
  filled: { hardAfter: "8" },
  tested: { method: "F2170", rh: "78", spot: "by the door" },
  profile: { csp: "3", depth: "20", spot: "mid bay" },
  adhesion: { strength: "300", pull: "D7234", failure: "concrete" },
  ventilationOn: { how: "one door" },
  ventilationOff: {},
  overrode: { call: "pour", own: "measured by hand" },
};

function made(act: Act, draft: Draft): EntryBody {
  const result = entryOf(act, draft, setting);
  if (!result.ok) throw new Error(JSON.stringify(result.faults));
  return result.entry;
}

describe("each act", () => {
  it.each([...DAILY_ACTS, ...RARE_ACTS])("%s makes an entry of the contract", (act) => {
    const entry = made(act, FILLED[act]);
    expect(readEntryBody(entry)).toEqual({ ok: true, value: entry });
    expect(entry.by).toBe("Rosa");
    for (const language of ["en", "es"] as const)
      expect(entryWords(entry, voiceOf(language, "us"))).not.toMatch(/undefined|NaN|null/);
  });

  it("writes the person's units as SI", () => {
    // 53.6 °F is 12 °C and 59 °F is 15 °C, exact; 150,000 BTU/h is 44.0 kW (NIST SP 811: 1 BTU_IT/h = 0.293 071 1 W).
    expect(made("measured", FILLED.measured)).toMatchObject({ slabC: 12, airC: 15, rhPct: 60 });
    expect(made("measured", FILLED.measured)).not.toHaveProperty("resinC");
    expect(made("measured", FILLED.measured)).not.toHaveProperty("probe");
    expect(made("measured", { ...FILLED.measured, probe: "n1/slab.2" })).toMatchObject({ probe: "n1/slab.2" });
    expect(made("heatingOn", FILLED.heatingOn)).toMatchObject({ kW: 44, vented: true, zone: null });
  });

  it("a step with solvent is written only when it is confirmed, and not where a heater burns", () => {
    const of = (draft: Draft, heaterSince: string | null) =>
      entryOf("cleaned", draft, { ...setting, solvent: { brought: true, heaterSince } });
    expect(of({ solvent: "yes" }, null)).toMatchObject({ ok: false, faults: { confirmed: "Look, then confirm." } });
    const held = of({ solvent: "yes", confirmed: "yes" }, "6:05 am");
    expect(held.ok ? null : held.faults["confirmed"]).toMatch(/^Hold: .+ since 6:05 am\./);
    const written = of({ solvent: "yes", confirmed: "yes" }, null);
    expect(written).toMatchObject({ ok: true, entry: { did: "cleaned", solvent: true, confirmed: true } });
    if (written.ok) expect(readEntryBody(written.entry)).toEqual({ ok: true, value: written.entry });
    expect(made("cleaned", { solvent: "no" })).not.toHaveProperty("confirmed");
  });

  it("knows which steps bring solvent, and since when a heater burns", () => {
    const [sheet] = sampleSheets();
    if (sheet === undefined) throw new Error("the sample has no sheet");
    const borne = { ...sheet, id: "borne", material: { ...EPOXY, hazards: ["solvent" as const] } };
    expect(bringsSolvent("pouring", { coat: "1" }, ["x", "borne"], [borne])).toBe(true);
    expect(bringsSolvent("pouring", { coat: "0" }, ["x", "borne"], [borne])).toBe(false);
    expect(bringsSolvent("cleaned", { solvent: "yes" }, [], [])).toBe(true);
    expect(bringsSolvent("cleaned", {}, [], [])).toBe(false);
    const at = (minutes: number) => new Date(NOW_MS - minutes * 60_000).toISOString();
    const heat: EntryBody = { id: "h", did: "heating", on: true, zone: null, at: at(30) };
    expect(heaterSinceMs([heat], "slip", NOW_MS)).toBe(NOW_MS - 30 * 60_000);
    expect(heaterSinceMs([{ ...heat, zone: "other" }], "slip", NOW_MS)).toBeNull();
    expect(heaterSinceMs([heat, { ...heat, id: "o", on: false, at: at(5) }], "slip", NOW_MS)).toBeNull();
    const undone: EntryBody = { id: "u", did: "undone", undoes: "h", zone: null, at: at(1) };
    expect(heaterSinceMs([heat, undone], "slip", NOW_MS)).toBeNull();
  });

  it("takes strength and depth in the person's units", () => {
    // 300 psi is 2.068 MPa (NIST SP 811: 1 psi = 6894.757 Pa); 20 mil is 508 µm, exact.
    expect(made("adhesion", FILLED.adhesion)).toMatchObject({ mpa: 2.068, how: "D7234", failure: "concrete" });
    expect(made("profile", FILLED.profile)).toMatchObject({ csp: 3, profileUm: 508 });
  });

  it("reads batch numbers and people as they are typed", () => {
    const more = {
      ...FILLED.poured,
      batches: "A: 26-0107-A3; B:25-1218, 77:1",
      people: "Ana, Íñigo ,",
      product: "grey",
    };
    expect(made("poured", more)).toMatchObject({
      batches: [
        { part: "A", number: "26-0107-A3" },
        { part: "B", number: "25-1218" },
        { part: "77", number: "1" },
      ],
      people: ["Ana", "Íñigo"],
      product: "grey",
    });
    expect(batchesFrom(" : x, y:, ,:")).toEqual([{ number: "x" }, { number: "y" }]);
    for (const key of ["batches", "people", "product"]) expect(made("poured", FILLED.poured)).not.toHaveProperty(key);
  });

  it("counts local times of the site", () => {
    expect(made("poured", FILLED.poured)).toMatchObject({
      from: "2026-02-03T10:30:00Z",
      to: "2026-02-03T12:00:00Z",
      at: "2026-02-03T12:05:00Z",
    });
    expect(made("pouring", FILLED.pouring).at).toBe("2026-02-03T11:50:00Z");
  });

  it.each([
    ["poured", { coat: "1", from: "2026-02-03T06:00", to: "2026-02-03T05:00" }, "to"],
    ["poured", { coat: "1", from: "", to: "2026-02-03T05:00" }, "from"],
    ["inspected", {}, "surface"],
    ["measured", {}, "slab"],
    ["measured", { humidity: "120" }, "humidity"],
    ["measured", { air: "cold" }, "air"],
    ["held", {}, "why"],
    ["forecast", { low: "20", until: "2026-02-03T20:00" }, "dew"],
    ["filled", { hardAfter: "0" }, "hardAfter"],
    ["tested", { method: "F1869", rh: "80" }, "mver"],
    ["profile", { depth: "deep" }, "depth"],
    ["profile", {}, "csp"],
    ["adhesion", { pull: "D7234" }, "strength"],
    ["overrode", { call: "pour" }, "own"],
  ] as const)("%s with %j names %s", (act, draft, field) => {
    const result = entryOf(act, draft, setting);
    expect(result.ok).toBe(false);
    if (!result.ok) expect(Object.keys(result.faults)).toContain(field);
  });
});

describe("what a form starts with", () => {
  const first = (act: Act, entries: EntryBody[], id = "slip") =>
    firstDraft(act, zone(id), entries, NOW_MS, "America/Chicago");
  it("the end of a pour takes over the coat and the hour of its start", () => {
    const pouring: EntryBody = { id: "p", did: "pouring", coat: 1, at: "2026-02-03T10:40:00Z", zone: "slip" };
    expect(first("poured", [pouring])).toEqual({ coat: "1", from: "2026-02-03T04:40", to: "2026-02-03T06:05" });
  });
  it("without a start it reckons one from the area and the crew's speed", () => {
    expect(first("poured", sampleJournal("slip"))).toMatchObject({ coat: "1", from: "2026-02-03T04:45" });
  });
  it("a start that was taken back, or that is finished, does not count", () => {
    const pouring: EntryBody = { id: "p", did: "pouring", coat: 1, at: "2026-02-03T10:40:00Z", zone: "slip" };
    const undone: EntryBody = { id: "u", did: "undone", undoes: "p", at: "2026-02-03T10:41:00Z", zone: "slip" };
    const poured: EntryBody = {
      id: "q",
      did: "poured",
      coat: 1,
      from: pouring.at,
      to: "2026-02-03T11:00:00Z",
      at: "2026-02-03T11:00:00Z",
      zone: "slip",
    };
    expect(first("poured", [pouring, undone])).toMatchObject({ from: "2026-02-03T04:45" });
    expect(first("poured", [pouring, poured])).toMatchObject({ from: "2026-02-03T04:45" });
  });
  it("a film is screened, a bare slab is ground", () => {
    expect(first("abraded", [])).toEqual({ how: "screened" });
    const bare = zone("slip");
    expect(firstDraft("abraded", { ...bare, call: { ...bare.call, film: null } }, [], NOW_MS, "UTC")).toEqual({
      how: "ground",
    });
  });
  it("an undone taking-back leaves the entry standing", () => {
    const at = "2026-02-03T10:00:00Z";
    const entries: EntryBody[] = [
      { id: "a", did: "washed", at, zone: "slip" },
      { id: "b", did: "undone", undoes: "a", at, zone: "slip" },
    ];
    expect(takenBack(entries).has("a")).toBe(true);
    expect(takenBack([...entries, { id: "c", did: "undone", undoes: "b", at, zone: "slip" }]).has("a")).toBe(false);
  });
});

describe("what is offered first", () => {
  it.each([
    ["inner", ["pouring", "inspected"]],
    ["rigging", ["abraded", "cleaned"]],
    ["stair", ["measured", "inspected"]],
    ["gallery", ["inspected", "measured"]],
  ])("%s", (id, acts) => {
    expect(firstActs(zone(id).call)).toEqual(acts);
  });
  it("while pouring, finishing comes first; a hold can be released", () => {
    expect(firstActs({ ...zone("inner").call, pouring: true })[0]).toBe("poured");
    expect(firstActs({ ...zone("slip").call, limiting: "hold" })[0]).toBe("released");
  });
});
