// What the crew wrote: two days of work on five zones, told relative to the moment the board is opened.
import { isoFromMs } from "#contract/primitives.ts";
import type { EntryBody } from "#contract/journal.ts";

const CREW = "crew";

/** Entries in order of time; `openedAtMs` is six in the evening at the site. */
export function heronReachJournal(openedAtMs: number): readonly EntryBody[] {
  const at = (hoursFromNow: number) => isoFromMs(openedAtMs + Math.round(hoursFromNow * 60) * 60_000);
  let count = 0;
  const entry = (hours: number, zone: string, did: object): EntryBody =>
    ({ id: `heron-${String(++count).padStart(2, "0")}`, at: at(hours), zone, by: CREW, ...did }) as EntryBody;
  const poured = (zone: string, coat: number, fromH: number, toH: number) =>
    entry(toH, zone, { did: "poured", coat, from: at(fromH), to: at(toH) });
  return [
    entry(-53.9, "clubroom", { did: "heating", on: true, vented: true, kW: 11, fuel: "natural-gas" }),
    entry(-53.8, "entrance", { did: "heating", on: true, vented: true, kW: 11, fuel: "natural-gas" }),
    entry(-53.7, "workshop", { did: "heating", on: true, vented: true, kW: 9, fuel: "electric" }),
    entry(-52.5, "workshop", { did: "abraded", how: "ground" }),
    entry(-51.2, "workshop", { did: "cleaned" }),
    poured("workshop", 0, -49.4, -48.1),
    entry(-36.4, "entrance", { did: "abraded", how: "ground" }),
    entry(-35.8, "entrance", { did: "cleaned" }),
    poured("entrance", 0, -35.2, -34.6),
    entry(-28.3, "clubroom", { did: "abraded", how: "ground" }),
    entry(-27.5, "clubroom", { did: "cleaned" }),
    entry(-23.5, "workshop", { did: "inspected", film: "soft" }),
    poured("clubroom", 0, -23.2, -22.3),
    entry(-9.9, "entrance", { did: "inspected", film: "hard", surface: "clean" }),
    poured("entrance", 1, -8.9, -8.2),
    entry(-7.4, "launch-bay", { did: "abraded", how: "ground" }),
    entry(-5.6, "launch-bay", { did: "cleaned" }),
    entry(-5, "oar-store", { did: "abraded", how: "ground" }),
    entry(-4.2, "oar-store", { did: "cleaned" }),
    entry(-2.8, "workshop", { did: "inspected", film: "hard", surface: "clean" }),
    entry(-0.7, "clubroom", { did: "inspected", film: "hard", surface: "clean" }),
    entry(-0.6, "clubroom", { did: "measured", resinC: 19.5, instrument: "probe thermometer" }),
  ];
}
