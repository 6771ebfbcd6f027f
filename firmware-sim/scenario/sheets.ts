// Invented sheets that the scenarios are coated with. Their numbers belong to no product and must not be used as limits.
import type { SheetBody } from "#contract/sheet.ts";

const row = (
  slabC: number,
  recoatFromH: number,
  recoatUntilH: number | null,
  dewSafeH: number | null,
  footH: number | null,
  trafficH: number | null,
) => ({ slabC, recoatFromH, recoatUntilH, dewSafeH, footH, trafficH });

export const SLOW_EPOXY: SheetBody = {
  id: "slow-epoxy",
  name: "Slow floor epoxy (invented)",
  limits: {
    slabC: [10, 30],
    airC: [10, 32],
    rhPct: [null, 85],
    waterGPerKg: [null, null],
    dewMarginK: 3,
    resinC: [15, 28],
    slabRhMaxPct: null,
    slabMverMaxLb: null,
  },
  cure: [
    row(10, 26, 60, 25, 48, 170),
    row(15, 16, 46, 16, 30, 130),
    row(20, 10.5, 36, 12, 20, 96),
    row(25, 7, 25, 8, 14, 72),
    row(30, 5, 18, 6, 10, 60),
  ],
  window: "closes",
  broadcastWaiver: false,
  seals: true,
  afterBlush: ["wash", "abrade", "clean"],
};

export const FAST_EPOXY: SheetBody = {
  id: "fast-cold-epoxy",
  name: "Fast cold-weather epoxy (invented)",
  limits: {
    slabC: [2, 26],
    airC: [1, 28],
    rhPct: [null, 92],
    waterGPerKg: [null, null],
    dewMarginK: 3,
    resinC: [12, 25],
    slabRhMaxPct: null,
    slabMverMaxLb: null,
  },
  cure: [
    row(2, 18, 52, 20, 24, 96),
    row(7, 10, 32, 11.5, 14, 72),
    row(12, 6, 24, 7, 9, 48),
    row(18, 4, 16, 4.5, 6, 36),
    row(24, 3, 11, 3, 4.5, 24),
  ],
  window: "closes",
  broadcastWaiver: true,
  seals: true,
  afterBlush: ["wash", "abrade", "clean"],
};

/** A sheet with a single line, as many are: what happens in the cold must be reckoned, and proved by touch. */
export const ONE_LINE_EPOXY: SheetBody = {
  id: "one-line-epoxy",
  name: "Thick build epoxy, one-line sheet (invented)",
  limits: {
    slabC: [7, 30],
    airC: [7, 30],
    rhPct: [null, 85],
    waterGPerKg: [null, null],
    dewMarginK: 3,
    resinC: [15, 28],
    slabRhMaxPct: null,
    slabMverMaxLb: null,
  },
  cure: [row(21, 11, 24, 9, 20, 96)],
  window: "closes",
  broadcastWaiver: false,
  seals: true,
  afterBlush: ["wash", "abrade", "clean"],
};

export const URETHANE_TOP: SheetBody = {
  id: "urethane-top",
  name: "Clear urethane top coat (invented)",
  limits: {
    slabC: [9, 30],
    airC: [9, 30],
    rhPct: [25, 80],
    waterGPerKg: [3, null],
    dewMarginK: 3,
    resinC: [12, 28],
    slabRhMaxPct: null,
    slabMverMaxLb: null,
  },
  cure: [
    row(9, 18, 54, 15, 40, 150),
    row(15, 11, 40, 9.5, 27, 120),
    row(21, 7.5, 31, 6.5, 18, 96),
    row(27, 5.5, 24, 4, 12, 72),
  ],
  window: "closes",
  broadcastWaiver: false,
  seals: true,
  afterBlush: ["wash", "abrade", "clean"],
};

/** Polyaspartic: quick in the cold, wants some moisture, forgives little of it. */
export const POLYASPARTIC_TOP: SheetBody = {
  id: "polyaspartic-top",
  name: "Polyaspartic top coat (invented)",
  limits: {
    slabC: [3, 30],
    airC: [3, 30],
    rhPct: [25, 85],
    waterGPerKg: [null, null],
    dewMarginK: 3,
    resinC: [10, 26],
    slabRhMaxPct: null,
    slabMverMaxLb: null,
  },
  cure: [row(3, 7, 26, 5.5, 12, 72), row(10, 4.2, 21, 4, 8, 48), row(16, 3, 15, 3, 6, 36), row(22, 2, 10, 2, 4, 24)],
  window: "closes",
  broadcastWaiver: false,
  seals: true,
  afterBlush: ["wash", "abrade", "clean"],
};
