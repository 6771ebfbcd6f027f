// What belongs to one zone of the made-up site: its page, journal, sheets, past readings, and a spot check. All numbers invented.
import type { SeriesBody, ZonePageBody } from "#contract/board.ts";
import type { CallBody } from "#contract/call.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { callOf, plots, sampleBoard } from "./sample-night.ts";
import { H, iso, NIGHT_AT } from "./sample-plot.ts";

export function sampleJournal(zone: string, at = Date.parse(NIGHT_AT)): EntryBody[] {
  const t = (h: number) => iso(at + h * H);
  return [
    { id: `${zone}-j1`, did: "abraded", how: "ground", at: t(-29), heardAt: t(-29), zone, by: "Rosa" },
    { id: `${zone}-j2`, did: "cleaned", at: t(-28), heardAt: t(-28), zone, by: "Rosa" },
    {
      id: `${zone}-j3`,
      did: "poured",
      coat: 0,
      from: t(-26),
      to: t(-24.5),
      at: t(-24.4),
      heardAt: t(-24.4),
      zone,
      by: "Tomás",
    },
    {
      id: `${zone}-j4`,
      did: "heating",
      on: true,
      vented: true,
      kW: 40,
      fuel: "propane",
      at: t(-20),
      heardAt: t(-20),
      zone: null,
      by: "Tomás",
    },
    { id: `${zone}-j5`, did: "inspected", surface: "clean", film: "hard", at: t(-3), heardAt: t(-3), zone, by: "Rosa" },
  ];
}

export function sampleSheets(): SheetBody[] {
  const sheet = (id: string, name: string): SheetBody => ({
    id,
    name,
    limits: {
      slabC: [10, 30],
      airC: [10, 32],
      rhPct: [null, 85],
      waterGPerKg: [null, null],
      dewMarginK: 3,
      resinC: [15, 27],
      slabRhMaxPct: 85,
      slabMverMaxLb: null,
    },
    cure: [
      { slabC: 10, recoatFromH: 24, recoatUntilH: 48, dewSafeH: 30, footH: 30, trafficH: 120 },
      { slabC: 20, recoatFromH: 12, recoatUntilH: 24, dewSafeH: 15, footH: 16, trafficH: 72 },
    ],
    window: "closes",
    broadcastWaiver: true,
    seals: true,
    afterBlush: ["wash", "abrade", "clean"],
  });
  return [sheet("grip-primer", "Grip primer"), sheet("clear-body", "Clear body coat"), sheet("top-coat", "Top coat")];
}

export function sampleZonePage(zone: string, at = Date.parse(NIGHT_AT)): ZonePageBody | null {
  const found = sampleBoard(at).zones.find((candidate) => candidate.zone.id === zone);
  return found === undefined ? null : { ...found, sheets: sampleSheets(), journal: sampleJournal(zone, at) };
}

/** Past conditions of the made-up zone on equal steps; the same in each zone but for the margin. */
export function sampleSeries(
  zone: string,
  fromMs: number,
  toMs: number,
  points: number,
  at = Date.parse(NIGHT_AT),
): SeriesBody {
  const plot = plots(at).find((candidate) => candidate.id === zone);
  const stepS = Math.max(60, Math.ceil((toMs - fromMs) / 1000 / points));
  const hours = Array.from(
    { length: Math.floor((toMs - fromMs) / 1000 / stepS) },
    (_, index) => (fromMs + index * stepS * 1000 - at) / H,
  );
  const round = (value: number) => (Number.isFinite(value) ? Math.round(value * 100) / 100 : null);
  const slab = (h: number) =>
    plot?.id === "stair" && h > -97 / 60 ? Number.NaN : 12.1 - 1.2 * Math.sin((h / 24) * 2 * Math.PI);
  const margin = (h: number) => plot?.margin(Math.max(h, -12)) ?? Number.NaN;
  const air = (h: number) => slab(h) + 1.9 - 2 * Math.sin(((h - 2) / 24) * 2 * Math.PI);
  return {
    from: iso(fromMs),
    to: iso(toMs),
    stepS,
    series: {},
    conditions: {
      slabColdC: hours.map((h) => round(slab(h))),
      slabHotC: hours.map((h) => round(slab(h) + 1.3)),
      airC: hours.map((h) => round(air(h))),
      rhPct: hours.map((h) => round(61 + 9 * Math.sin(h / 5) + 0 * slab(h))),
      dewPointC: hours.map((h) => round(slab(h) - margin(h))),
      marginK: hours.map((h) => round(margin(h) + 0 * slab(h))),
    },
  };
}

/** A call for three numbers: frost, the margin and the sheet's limits only; null for a sheet that is not there. */
export function sampleSpotCheck(body: { slabC: number; airC: number; rhPct: number; sheet: string }): CallBody | null {
  const sheet = sampleSheets().find((one) => one.id === body.sheet);
  const plot = plots(Date.parse(NIGHT_AT))[1];
  if (sheet === undefined || plot === undefined) return null;
  const gamma = Math.log(body.rhPct / 100) + (17.625 * body.airC) / (243.04 + body.airC);
  const dewPointC = (243.04 * gamma) / (17.625 - gamma);
  const marginK = body.slabC - dewPointC;
  const limiting = marginK < sheet.limits.dewMarginK ? "dew-margin" : null;
  const call = callOf(
    {
      ...plot,
      call: limiting === null ? "pour" : "wait",
      limiting,
      rules:
        limiting === null
          ? []
          : [{ rule: limiting, outcome: "stop", measured: marginK, limit: 3, unit: "K", probe: null }],
      more: {},
    },
    Date.parse(NIGHT_AT),
  );
  return {
    ...call,
    site: "spot-check",
    zone: "spot-check",
    conditions: {
      ...call.conditions,
      slabColdC: body.slabC,
      slabHotC: body.slabC,
      airC: body.airC,
      rhPct: body.rhPct,
      dewPointC,
      marginK,
    },
  };
}
