// Nights with the first coat down and the second to come.
import { FAST_EPOXY, ONE_LINE_EPOXY, POLYASPARTIC_TOP, SLOW_EPOXY, URETHANE_TOP } from "../scenario/sheets.ts";
import { groundBefore, type NightRecipe } from "./recipe.ts";

const tight = (floor: "on-grade" | "deck" | "insulated", startC: number) => ({ floor, shell: "tight", startC }) as const;

export const SECOND_NIGHTS: readonly NightRecipe[] = [
  {
    id: "second-01", title: "slow epoxy of yesterday in steady heat", station: "EWR", evening: "2013-02-02",
    shed: tight("on-grade", 16), heat: { powerKw: 14, targets: [[-400, 19]] },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-25), pours: [[0, -25, -23.6]],
  },
  {
    id: "second-02", title: "heater runs dry at eight in the evening", station: "LGA", evening: "2013-01-24",
    shed: { floor: "on-grade", shell: "loose", startC: 14 }, heat: { powerKw: 24, targets: [[-400, 18]], fuel: { kwh: 680, fromH: -48 } },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-8), pours: [[0, -8, -6.6]],
  },
  {
    id: "second-03", title: "fast epoxy in the cold, heat kept low", station: "greensboro", evening: "1988-01-28",
    shed: tight("on-grade", 9), heat: { powerKw: 9, targets: [[-400, 10]] },
    system: [FAST_EPOXY, URETHANE_TOP], journal: groundBefore(-9), pours: [[0, -9, -7.6]],
  },
  {
    id: "second-04", title: "set-back nights under a slow epoxy laid late", station: "JFK", evening: "2013-03-05",
    shed: tight("insulated", 15), heat: { powerKw: 12, targets: [[-400, 18]], setBack: { byK: 6, daily: [{ fromH: 19, toH: 6 }] } },
    system: [SLOW_EPOXY, SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-3), pours: [[0, -3, -1.7]],
  },
  {
    id: "second-05", title: "doors open to rain in the morning, film still sensitive", station: "LGA", evening: "2013-02-10",
    shed: { ...tight("on-grade", 12), dampKgPerH: 0.3 }, heat: { powerKw: 14, targets: [[-400, 14]] }, doorOpen: [[14.5, 16.5]],
    system: [SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-5), pours: [[0, -5, -3.6]],
  },
  {
    id: "second-06", title: "one-line sheet on a cold floor: the day passes before it is hard", station: "EWR", evening: "2013-01-06",
    shed: tight("on-grade", 10), heat: { powerKw: 10, targets: [[-400, 11]] },
    system: [ONE_LINE_EPOXY, URETHANE_TOP], journal: groundBefore(-22), pours: [[0, -22, -20.5]],
  },
  {
    id: "second-07", title: "unheated, wet and mild: dew on a young film", station: "JFK", evening: "2013-12-20",
    shed: { floor: "on-grade", shell: "loose", startC: 7, groundC: 9 }, heat: null,
    system: [FAST_EPOXY, FAST_EPOXY], journal: groundBefore(-6), pours: [[0, -6, -4.6]],
  },
  {
    id: "second-08", title: "river deck, heated from above, cold from below", station: "greensboro", evening: "1996-02-18",
    shed: { ...tight("deck", 10) }, heat: { powerKw: 20, targets: [[-400, 16]] },
    system: [FAST_EPOXY, URETHANE_TOP], journal: groundBefore(-10), pours: [[0, -10, -8.6]],
  },
  {
    id: "second-09", title: "node without network from nine to three, then all at once", station: "EWR", evening: "2013-02-21",
    shed: tight("on-grade", 15), heat: { powerKw: 13, targets: [[-400, 17]] },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-20), pours: [[0, -20, -18.6]],
    faults: (at) => [{ kind: "no-network", fromMs: at(5), toMs: at(11) }],
  },
  {
    id: "second-10", title: "node falls silent at half past ten", station: "greensboro", evening: "1990-03-06",
    shed: tight("on-grade", 14), heat: { powerKw: 12, targets: [[-400, 16]] },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-20), pours: [[0, -20, -18.6]],
    faults: (at) => [{ kind: "silent", fromMs: at(6.5), toMs: at(40) }],
  },
  {
    id: "second-11", title: "the door probe comes off its tape at six", station: "LGA", evening: "2013-02-03",
    shed: tight("on-grade", 15), heat: { powerKw: 16, targets: [[-400, 18]], hysteresisK: 4 },
    system: [SLOW_EPOXY, URETHANE_TOP], journal: groundBefore(-24), pours: [[0, -24, -22.6]],
    faults: (at) => [{ kind: "loose", quantity: "slab.2", fromMs: at(2), toMs: at(40) }],
  },
  {
    id: "second-12", title: "fast epoxy, polyaspartic waiting, front drops the air twenty degrees", station: "LGA", evening: "2013-11-22",
    shed: { floor: "insulated", shell: "loose", startC: 11, groundC: 12 }, heat: null,
    system: [FAST_EPOXY, POLYASPARTIC_TOP], journal: groundBefore(-7), pours: [[0, -7, -5.6]],
  },
];
