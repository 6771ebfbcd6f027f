// Nights with the top coat to come, or just down.
import { FAST_EPOXY, POLYASPARTIC_TOP, SLOW_EPOXY, URETHANE_TOP } from "../scenario/sheets.ts";
import { groundBefore, type NightRecipe } from "./recipe.ts";

const tight = (floor: "on-grade" | "deck" | "insulated", startC: number) => ({ floor, shell: "tight", startC }) as const;

export const TOP_NIGHTS: readonly NightRecipe[] = [
  {
    id: "top-01", title: "polyaspartic at dusk over fast epoxy of the morning", station: "greensboro", evening: "1988-01-08",
    shed: tight("on-grade", 11), heat: { powerKw: 11, targets: [[-400, 12]] },
    system: [FAST_EPOXY, POLYASPARTIC_TOP], journal: groundBefore(-9), pours: [[0, -9, -7.6]],
  },
  {
    id: "top-02", title: "urethane wants water and the frost has taken it", station: "LGA", evening: "2013-01-23",
    shed: { ...tight("insulated", 17), dampKgPerH: 0.02 }, heat: { powerKw: 15, targets: [[-400, 20]] },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-22), pours: [[0, -22, -20.6]],
  },
  {
    id: "top-03", title: "window of the slow epoxy closes before dawn", station: "EWR", evening: "2013-03-20",
    shed: tight("on-grade", 17), heat: { powerKw: 14, targets: [[-400, 21]] },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-30), pours: [[0, -30, -28.6]],
  },
  {
    id: "top-04", title: "two coats down, abraded after a missed window, top coat to come", station: "greensboro", evening: "1996-02-22",
    shed: tight("on-grade", 14), heat: { powerKw: 12, targets: [[-400, 15]] },
    system: [FAST_EPOXY, FAST_EPOXY, POLYASPARTIC_TOP],
    journal: [...groundBefore(-47), [-3, "abraded", { how: "screened" }], [-2.2, "cleaned"]], pours: [[0, -47, -45.6], [1, -35, -33.6]],
  },
  {
    id: "top-05", title: "last coat down at noon, curing in steady heat", station: "JFK", evening: "2013-12-13",
    shed: tight("on-grade", 15), heat: { powerKw: 14, targets: [[-400, 18]] },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-30), pours: [[0, -30, -28.6], [1, -4, -2.7]],
  },
  {
    id: "top-06", title: "last coat down, heater runs dry in the night", station: "LGA", evening: "2013-12-23",
    shed: { floor: "on-grade", shell: "loose", startC: 14 }, heat: { powerKw: 22, targets: [[-400, 17]], fuel: { kwh: 150, fromH: -6 } },
    system: [FAST_EPOXY, URETHANE_TOP], journal: groundBefore(-16), pours: [[0, -16, -14.6], [1, -4, -2.7]],
  },
  {
    id: "top-07", title: "last coat on an unheated deck, wet dawn", station: "greensboro", evening: "1988-01-18",
    shed: { floor: "deck", shell: "loose", startC: 7, dampKgPerH: 0.4 }, heat: null,
    system: [FAST_EPOXY, POLYASPARTIC_TOP], journal: groundBefore(-22), pours: [[0, -22, -20.6], [1, -5, -3.7]],
  },
  {
    id: "top-08", title: "humidity sensor wet through at two in the morning", station: "JFK", evening: "2013-03-11",
    shed: { ...tight("insulated", 14), dampKgPerH: 0.4 }, heat: { powerKw: 10, targets: [[-400, 15]] },
    system: [SLOW_EPOXY, POLYASPARTIC_TOP], journal: groundBefore(-21), pours: [[0, -21, -19.6]],
    faults: (at) => [{ kind: "saturated", fromMs: at(10), toMs: at(40) }],
  },
  {
    id: "top-09", title: "heater off at dusk by plan, tight warm floor coasts", station: "EWR", evening: "2013-12-17",
    shed: tight("insulated", 17), heat: { powerKw: 14, targets: [[-400, 20], [1, null], [15, 20]] },
    system: [FAST_EPOXY, POLYASPARTIC_TOP], journal: groundBefore(-8), pours: [[0, -8, -6.6]],
  },
  {
    id: "top-10", title: "found greasy in the morning after a wet night", station: "LGA", evening: "2013-12-05",
    shed: { floor: "on-grade", shell: "loose", startC: 9, groundC: 10, dampKgPerH: 0.2 }, heat: { powerKw: 9, targets: [[-400, 11]] },
    system: [FAST_EPOXY, POLYASPARTIC_TOP], journal: [...groundBefore(-6), [15.5, "inspected", { surface: "greasy", film: "hard" }]], pours: [[0, -6, -4.6]],
  },
];
