// The desk: what is typed in is checked against what is there, kept once, and judged at once.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { runApp, type RunningApp, until, valueOf } from "../support/running-app.ts";
import { NODE, OUTDOORS, pack, SHEET, SITE, ZONE } from "../support/small-site.ts";

let running: RunningApp;
beforeAll(async () => {
  running = await runApp();
});
afterAll(() => running.end());

const iso = (agoMs = 0) => isoFromMs(Math.round(running.nowMs()) - agoMs);
const desk = () => running.app.desk;
const refusal = (answer: { ok: boolean }) => {
  if (answer.ok) return null;
  const { refusal: kind, faults } = answer as unknown as { refusal: string; faults: { field: string }[] };
  return `${kind} ${faults.map(({ field }) => field).join(" ")}`;
};
const bay = () => valueOf(desk().zonePage(SITE.id, "bay"));

describe("the journal", () => {
  it("keeps an entry once, with id, who and when it was heard, and judges before it answers", async () => {
    await running.send(pack(Math.round(running.nowMs())));
    await until(() => bay().call.call === "pour");
    const said: EntryBody = { id: "phone-7:1", did: "held", at: iso(1000), zone: "bay", why: "ceiling drips" };
    const kept = valueOf(await desk().addEntry(SITE.id, said, "Ida"));
    expect(kept).toMatchObject({ ...said, by: "Ida" });
    expect(Date.parse(kept.heardAt ?? "")).toBeGreaterThan(Date.parse(said.at));
    expect(bay().call).toMatchObject({ call: "wait", limiting: "hold" });
    expect(valueOf(await desk().addEntry(SITE.id, said, "Ida"))).toEqual(kept);
    expect(refusal(await desk().addEntry(SITE.id, { ...said, why: "no lights" } as EntryBody, "Ida"))).toBe(
      "conflict /id",
    );
    expect(valueOf(desk().journal(SITE.id, "bay", null)).entries).toEqual([kept]);
    expect(valueOf(desk().journal(SITE.id, "bay", running.nowMs())).entries).toEqual([]);
    expect(bay().journal).toEqual([kept]);
    const made = valueOf(await desk().addEntry(SITE.id, { did: "released", at: iso(), zone: "bay" }, null));
    expect(made.id).toMatch(/^e-/);
  });

  it.each<[string, object, string]>([
    ["a zone that is not there", { did: "washed", zone: "roof" }, "invalid /zone"],
    ["a time ahead", { did: "washed", at: "2099-01-01T00:00:00Z" }, "invalid /at"],
    ["an entry that is not there", { did: "undone", undoes: "nothing" }, "invalid /undoes"],
    ["a coat that the system has not", { did: "pouring", coat: 2 }, "invalid /coat"],
    ["a sheet that is not there", { did: "coat-added", sheet: "gloss" }, "invalid /sheet"],
    ["a probe of no node here", { did: "retired", probe: "yard-9/slab" }, "invalid /probe"],
    [
      "a part that has the name of a zone",
      {
        did: "split",
        into: [
          { id: "bay", areaM2: 20 },
          { id: "bay-b", areaM2: 40 },
        ],
      },
      "invalid /into/0/id",
    ],
    ["a time of hearing", { did: "washed", heardAt: "2026-02-03T12:00:00Z" }, "invalid /heardAt"],
  ])("refuses %s", async (_, body, wanted) => {
    const answer = await desk().addEntry(SITE.id, { at: iso(), zone: "bay", ...body } as EntryBody, "Ida");
    expect(refusal(answer)).toBe(wanted);
  });

  it("splits a zone: its parts are judged, and it is no more", async () => {
    const other = valueOf(await desk().putZone(SITE.id, { ...ZONE, id: "hall", name: "Hall" }, "add"));
    valueOf(await desk().putNode(SITE.id, { ...NODE, id: "hall-1", zone: "hall" }, "add"));
    const into = [
      { id: "hall-n", areaM2: 20 },
      { id: "hall-s", name: "Hall south", areaM2: 40 },
    ];
    const split = valueOf(await desk().addEntry(SITE.id, { did: "split", at: iso(), zone: other.id, into }, "Ida"));
    const board = valueOf(desk().board(SITE.id));
    expect(board.zones.map(({ zone }) => `${zone.id} ${zone.areaM2}`)).toEqual(["bay 60", "hall-n 20", "hall-s 40"]);
    expect(refusal(desk().zonePage(SITE.id, "hall"))).toBe("missing /zone");
    expect(refusal(await desk().putZone(SITE.id, { ...ZONE, id: "hall-s" }, "change"))).toBe("conflict /id");
    expect(refusal(await desk().removeZone(SITE.id, "hall-s"))).toBe("conflict /zone");
    expect(valueOf(desk().nightFile(SITE.id, "hall-s"))).toMatchObject({
      zones: [{ id: "hall" }],
      nodes: [{ id: "hall-1" }, { id: "yard" }],
    });
    const from = { zone: "hall", name: "Hall", entry: split.id };
    expect(board.zones.map(({ splitFrom }) => splitFrom)).toEqual([undefined, from, from]);
    const undone = { did: "undone", at: iso(), zone: "hall", undoes: split.id ?? "" } as const;
    valueOf(await desk().addEntry(SITE.id, undone, "Ida"));
    expect(valueOf(desk().board(SITE.id)).zones.map(({ zone }) => zone.id)).toEqual(["bay", "hall"]);
  });
});

describe("solvent and flames", () => {
  const clean = (more: object = {}) =>
    desk().addEntry(
      SITE.id,
      { did: "cleaned", at: iso(), zone: "bay", solvent: true, confirmed: true, ...more } as EntryBody,
      "Ida",
    );
  it("does not meet: a burner that the journal knows of holds the step until it is logged as off", async () => {
    expect(valueOf(await clean())).toMatchObject({ solvent: true, confirmed: true });
    const burner = valueOf(
      await desk().addEntry(SITE.id, { did: "heating", on: true, fuel: "propane", at: iso(1000) }, "Ida"),
    );
    const held = await clean();
    expect(refusal(held)).toBe("invalid /confirmed");
    expect(JSON.stringify(held)).toContain(`since ${burner.at}: log it as off first`);
    // Without solvent nothing is asked, and what was done before the burner stands.
    expect(refusal(await clean({ solvent: undefined, confirmed: undefined }))).toBeNull();
    expect(refusal(await clean({ at: iso(60_000) }))).toBeNull();
    // Taken back, it burns no more.
    await desk().addEntry(SITE.id, { did: "undone", undoes: burner.id ?? "", at: iso() }, "Ida");
    expect(refusal(await clean())).toBeNull();
  });
});

describe("the record of a site", () => {
  it("takes a site once, with a time zone that exists", async () => {
    expect(refusal(await desk().addSite(SITE))).toBe("conflict /id");
    expect(refusal(await desk().addSite({ ...SITE, id: "pier", timezone: "Sea/Middle" }))).toBe("invalid /timezone");
    expect(refusal(await desk().patchSite(SITE.id, { timezone: "Sea/Middle" }))).toBe("invalid /timezone");
    expect(refusal(await desk().patchSite("pier", {}))).toBe("missing /site");
    expect(valueOf(await desk().patchSite(SITE.id, { name: "Dock shed, north" }))).toEqual({
      ...SITE,
      name: "Dock shed, north",
    });
    expect(desk().sites()).toEqual([{ ...SITE, name: "Dock shed, north" }]);
  });

  it("asks for sheets that are there, and takes nonsense on a sheet: the judge refuses to pour on it", async () => {
    expect(refusal(await desk().putZone(SITE.id, { ...ZONE, id: "deck", system: ["body-coat", "gloss"] }, "add"))).toBe(
      "invalid /system/1",
    );
    const odd = { ...SHEET, id: "odd", limits: { ...SHEET.limits, slabC: [30, 5] as [number, number] } };
    expect(valueOf(await desk().putSheet(odd))).toMatchObject({ ...odd, saved: { revision: 1, by: null } });
    expect(
      desk()
        .sheets()
        .map(({ id }) => id),
    ).toEqual(["body-coat", "odd"]);
  });

  it("adds, changes and removes zones and nodes in an order that leaves nothing hanging", async () => {
    const deck = { ...ZONE, id: "deck", name: "Deck" };
    expect(refusal(await desk().putZone(SITE.id, deck, "change"))).toBe("missing /zone");
    valueOf(await desk().putZone(SITE.id, deck, "add"));
    expect(refusal(await desk().putZone(SITE.id, deck, "add"))).toBe("conflict /id");
    expect(refusal(await desk().putNode(SITE.id, { ...NODE, id: "deck-1", zone: "attic" }, "add"))).toBe(
      "invalid /zone",
    );
    expect(refusal(await desk().putNode(SITE.id, { ...NODE, id: "deck-1", zone: "deck" }, "change"))).toBe(
      "missing /node",
    );
    valueOf(await desk().putNode(SITE.id, { ...NODE, id: "deck-1", zone: "deck" }, "add"));
    expect(refusal(await desk().removeZone(SITE.id, "deck"))).toBe("conflict /zone");
    expect(refusal(await desk().removeNode(SITE.id, "deck-9"))).toBe("missing /node");
    valueOf(await desk().removeNode(SITE.id, "deck-1"));
    valueOf(await desk().removeZone(SITE.id, "deck"));
    expect(refusal(desk().zonePage(SITE.id, "deck"))).toBe("missing /zone");
    // Its journal would speak for the new one.
    expect(refusal(await desk().putZone(SITE.id, deck, "add"))).toBe("conflict /id");
  });

  it("is there again after a restart", async () => {
    const before = {
      sites: desk().sites(),
      sheets: desk().sheets(),
      nodes: valueOf(desk().nodes(SITE.id)).map(({ node }) => node),
      entries: valueOf(desk().journal(SITE.id, null, null)),
    };
    await running.stop();
    running = await runApp({ data: running.data, empty: true, atMs: Math.round(running.nowMs()) });
    expect({
      sites: desk().sites(),
      sheets: desk().sheets(),
      nodes: valueOf(desk().nodes(SITE.id)).map(({ node }) => node),
      entries: valueOf(desk().journal(SITE.id, null, null)),
    }).toEqual(before);
    expect(bay().call.conditions.slabColdC).toBe(12.1);
  });
});

describe("charts", () => {
  it("have equal steps, gaps that stay gaps, and the worst spot of each step", async () => {
    const t = Math.floor(running.nowMs() / 3_600_000) * 3_600_000 - 60 * 3_600_000;
    for (const minute of [0, 10, 20, 130, 140]) {
      await running.send(pack(t + minute * 60_000, { slab: 8 + minute / 100, air: 12, rh: 60 }));
    }
    const chart = valueOf(await desk().series(SITE.id, "bay", t, t + 3 * 3_600_000, 3));
    expect(chart.stepS).toBe(3600);
    expect(chart.series[`${NODE.id}/slab`]).toEqual([
      { min: 8, mean: 8.1, max: 8.2 },
      { min: null, mean: null, max: null },
      { min: 9.3, mean: 9.35, max: 9.4 },
    ]);
    expect(chart.conditions.slabColdC).toEqual([8, null, 9.3]);
    expect(chart.conditions.slabHotC).toEqual([8.2, null, 9.4]);
    // Dew point at 12 °C and 60 %: 4.5 °C (Magnus form as in tests/core/air).
    expect(chart.conditions.dewPointC[0]).toBeCloseTo(4.5, 1);
    expect(chart.conditions.marginK[0]).toBeCloseTo(3.5, 1);
    expect(chart.conditions.marginK[1]).toBeNull();
    expect(refusal(await desk().series(SITE.id, "roof", t, t + 1000, 3))).toBe("missing /zone");
  });

  it("show the outdoors on the board while it is fresh", async () => {
    await running.send([{ n: `${OUTDOORS.id}/air`, u: "Cel", t: Math.round(running.nowMs()) / 1000, v: 2.5 }], {
      topic: "nightslab/v1/dock/node/yard/senml",
    });
    expect(valueOf(desk().board(SITE.id)).outdoorC).toBe(2.5);
    running.moveClock(31 * 60_000);
    expect(valueOf(desk().board(SITE.id)).outdoorC).toBeNull();
  });
});
