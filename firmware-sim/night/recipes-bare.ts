// Nights over a bare slab that waits for its first coat.
import { FAST_EPOXY, ONE_LINE_EPOXY, POLYASPARTIC_TOP, SLOW_EPOXY, URETHANE_TOP } from "../scenario/sheets.ts";
import { bareReady, type NightRecipe } from "./recipe.ts";

const unheated = (floor: "on-grade" | "deck" | "insulated", startC: number, groundC = 8) =>
  ({ floor, shell: "loose", startC, groundC, dampKgPerH: 0.15 }) as const;
const tight = (floor: "on-grade" | "deck" | "insulated", startC: number) => ({ floor, shell: "tight", startC }) as const;

export const BARE_NIGHTS: readonly NightRecipe[] = [
  {
    id: "bare-01", title: "warm rain over a winter slab, no heat", station: "JFK", evening: "2013-01-29",
    shed: { ...unheated("on-grade", 4, 7), doors: [{ fromH: 9, toH: 9.5 }] }, heat: null,
    system: [FAST_EPOXY, URETHANE_TOP], journal: bareReady(), pours: [],
  },
  {
    id: "bare-02", title: "the thaw breaks into cold before noon, no heat", station: "LGA", evening: "2013-01-30",
    shed: unheated("on-grade", 4, 7), heat: null, system: [FAST_EPOXY, POLYASPARTIC_TOP], journal: bareReady(), pours: [],
  },
  {
    id: "bare-03", title: "heated two days, steady cold and dry outside", station: "EWR", evening: "2013-01-18",
    shed: tight("on-grade", 14), heat: { powerKw: 12, targets: [[-400, 17]] },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: bareReady(), pours: [],
  },
  {
    id: "bare-04", title: "deep cold, loose shed, heater at its limit", station: "LGA", evening: "2013-01-22",
    shed: { floor: "on-grade", shell: "loose", startC: 8 }, heat: { powerKw: 14, targets: [[-400, 16]] },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: bareReady(), pours: [],
  },
  {
    id: "bare-05", title: "heater started this morning: air warm, slab still cold and rising", station: "greensboro", evening: "1996-02-10",
    shed: tight("on-grade", 8), heat: { powerKw: 18, targets: [[-400, null], [-9, 20]] },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: [...bareReady(), [-9, "heating", { on: true, vented: true, kW: 18, fuel: "kerosene" }]], pours: [],
  },
  {
    id: "bare-06", title: "unvented propane since noon in a tight shed", station: "EWR", evening: "2013-02-09",
    shed: { ...tight("on-grade", 8), dampKgPerH: 0.2 }, heat: { powerKw: 18, targets: [[-400, null], [-4, 18]], unvented: true },
    system: [FAST_EPOXY, URETHANE_TOP], journal: [...bareReady(), [-4, "heating", { on: true, vented: false, kW: 18, fuel: "propane" }]], pours: [],
  },
  {
    id: "bare-07", title: "river deck, clear cold night, no heat", station: "greensboro", evening: "1988-01-14",
    shed: unheated("deck", 5), heat: null, system: [FAST_EPOXY, FAST_EPOXY], journal: bareReady(), pours: [],
  },
  {
    id: "bare-08", title: "mild wet evening with a front at midnight, no heat", station: "JFK", evening: "2013-11-17",
    shed: unheated("on-grade", 11, 12), heat: null, system: [SLOW_EPOXY, POLYASPARTIC_TOP], journal: bareReady(), pours: [],
  },
  {
    id: "bare-09", title: "dew point climbs all night to meet a cold floor", station: "LGA", evening: "2013-11-26",
    shed: unheated("on-grade", 7, 10), heat: null, system: [FAST_EPOXY, URETHANE_TOP], journal: bareReady(), pours: [],
  },
  {
    id: "bare-10", title: "insulated floor, gently heated, one-line sheet", station: "greensboro", evening: "1988-01-22",
    shed: tight("insulated", 12), heat: { powerKw: 9, targets: [[-400, 13]], setBack: { byK: 2, daily: [{ fromH: 21, toH: 5 }] } },
    system: [ONE_LINE_EPOXY, URETHANE_TOP], journal: bareReady(), pours: [],
  },
  {
    id: "bare-11", title: "first evening on a high cold site: an hour of data", station: "alamosa", evening: "2015-12-31",
    shed: tight("on-grade", 9), heat: { powerKw: 16, targets: [[-400, 14]] },
    system: [FAST_EPOXY, POLYASPARTIC_TOP], journal: [[-0.6, "abraded", { how: "ground" }], [-0.2, "cleaned"]], pours: [], pastH: 1,
  },
  {
    id: "bare-12", title: "bare slab under a sunny window, mild days", station: "LGA", evening: "2013-03-29",
    shed: { ...tight("insulated", 13), sunShare: 0.15 }, heat: { powerKw: 8, targets: [[-400, 14]] },
    system: [FAST_EPOXY, POLYASPARTIC_TOP], journal: bareReady(), pours: [],
  },
];
