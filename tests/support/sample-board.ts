// The board of the made-up site as a server sends it: a zone for each call, and one that nobody has heard from.
import type { BoardBody, BoardZoneBody, NodeStateBody, PastCallBody } from "#contract/board.ts";
import type { CallBody, ConditionsBody, RuleResultBody } from "#contract/call.ts";
import type { OutlookBody } from "#contract/outlook.ts";
import type { NodeBody, ZoneBody } from "#contract/zone.ts";
import { RULE_IDS, type RuleId } from "#core/judge/call.ts";
import { at, SAMPLE_SITE } from "./sample-site.ts";

const round = (value: number, digits = 2) => Math.round(value * 10 ** digits) / 10 ** digits;

const zone = (id: string, name: string, areaM2: number): ZoneBody => ({
  id,
  name,
  areaM2,
  pourM2PerH: 60,
  system: ["base-epoxy", "top-polyaspartic"],
  base: "porous",
});
const node = (id: string, of: string | null): NodeBody => ({
  id,
  zone: of,
  everyS: 300,
  accuracy: { slabK: 0.5, airK: 0.3, rhPct: 2 },
  ...(of === null ? {} : { probes: { slab: { place: "by the door", xM: 0.5, yM: 2 } } }),
});
const heard = (of: NodeBody, hours: number | null): NodeStateBody => ({
  node: of,
  presence: hours === null ? "unknown" : hours < -1 ? "offline" : "online",
  lastHeard: hours === null ? null : at(hours),
  batteryPct: hours === null ? null : 71,
  rssiDbm: hours === null ? null : -67,
  quarantined: of.id === "office-1" ? 3 : 0,
  lastReason: of.id === "office-1" ? '/0/u: "degF" is not a unit of slab (Cel)' : null,
});

const conditions = (slabC: number, dewPointC: number): ConditionsBody => ({
  slabColdC: slabC,
  slabHotC: round(slabC + 0.8),
  airC: round(slabC + 1.6),
  rhPct: 58,
  dewPointC,
  marginK: round(slabC - dewPointC),
  marginUncertaintyK: 0.9,
  slabSlopeKPerH: -0.3,
  ageS: 140,
});
const NOTHING: ConditionsBody = {
  slabColdC: null,
  slabHotC: null,
  airC: null,
  rhPct: null,
  dewPointC: null,
  marginK: null,
  marginUncertaintyK: null,
  slabSlopeKPerH: null,
  ageS: null,
};

/** All rules in their order; those named differ from a plain pass. */
function rules(
  differing: Partial<Record<RuleId, Partial<RuleResultBody>>>,
  rest: RuleResultBody["outcome"] = "pass",
): RuleResultBody[] {
  return RULE_IDS.map((rule) => ({
    rule,
    outcome: rest,
    measured: null,
    limit: null,
    unit: null,
    probe: null,
    since: null,
    detail: null,
    ...differing[rule],
  }));
}

function call(
  of: string,
  word: CallBody["call"],
  limiting: RuleId | null,
  ruleList: RuleResultBody[],
  now: ConditionsBody,
): CallBody {
  return {
    site: SAMPLE_SITE.id,
    zone: of,
    at: at(0),
    call: word,
    limiting,
    rules: ruleList,
    steps: [],
    validUntil: null,
    pour: null,
    next: null,
    night: null,
    window: { state: "none", opensAt: null, closesAt: null, earned: null },
    film: null,
    nextCoat: 0,
    pouring: false,
    conditions: now,
    ruleVersion: "sample",
  };
}

const STEP_S = 900;
const wave = (hours: number) => Math.cos(((hours - 7) / 24) * 2 * Math.PI);

function outlook(slabC: number, dewPointC: number, calls: OutlookBody["calls"]): OutlookBody {
  const hours = Array.from({ length: 145 }, (_, index) => index / 4);
  const fan = (middle: (ahead: number) => number) => {
    const quantile = (sign: number) => hours.map((ahead) => round(middle(ahead) + sign * 0.25 * Math.sqrt(ahead)));
    return { q10: quantile(-1), q50: quantile(0), q90: quantile(1) };
  };
  const slab = (ahead: number) => slabC + 1.5 * (wave(ahead) - wave(0));
  const dew = (ahead: number) => dewPointC + 0.6 * (wave(ahead) - wave(0));
  return {
    from: at(0),
    stepS: STEP_S,
    basis: ["fitted on 41 h", "weather feed"],
    marginK: fan((ahead) => slab(ahead) - dew(ahead)),
    slabColdC: fan(slab),
    airC: fan((ahead) => slab(ahead) + 1.5),
    dewPointC: fan(dew),
    calls,
    film: null,
    failing: [],
    feedAgeS: null,
  };
}

function boardZone(
  of: ZoneBody,
  its: CallBody,
  past: PastCallBody[],
  ahead: OutlookBody | null,
  heardAt: number | null,
): BoardZoneBody {
  const { marginK } = its.conditions;
  // An hour without readings, ten hours ago: a gap in the strip.
  const pastMargin = Array.from({ length: 48 }, (_, index) => {
    const hours = -12 + index / 4;
    return marginK === null || (hours >= -10 && hours < -9) ? null : round(marginK + 0.9 * (wave(hours) - wave(0)));
  });
  return {
    zone: of,
    call: its,
    past,
    pastMargin: { from: at(-12), stepS: STEP_S, marginK: pastMargin },
    outlook: ahead,
    marginLimitK: its.nextCoat === null && its.film === null ? null : 3,
    lastHeard: heardAt === null ? null : at(heardAt),
  };
}
const past = (
  from: number,
  to: number | null,
  word: CallBody["call"],
  limiting: RuleId | null,
  hindsight = false,
): PastCallBody => ({
  from: at(from),
  to: to === null ? null : at(to),
  call: word,
  limiting,
  hindsight,
});
const film = (sheet: string, coat: number, poured: number, dewSafeEarned: number): NonNullable<CallBody["film"]> => ({
  coat,
  sheet,
  pouredFrom: at(poured),
  pouredTo: at(poured + 1.2),
  dewSafeEarned,
  dewSensitive: dewSafeEarned < 1,
  dewSafeAt: dewSafeEarned < 1 ? at(6.5) : at(-4),
  walkOnAt: at(9),
  driveOnAt: null,
  estimated: sheet === "top-polyaspartic",
});

const SLIP = zone("slip", "Slip", 84);
const TOOLS = zone("tools", "Tool room", 32);
const GALLERY = zone("gallery", "Gallery", 140);
const OFFICE = zone("office", "Office", 26);
const STORE = zone("store", "Cold store", 55);

const SLIP_ZONE = boardZone(
  SLIP,
  {
    ...call(
      "slip",
      "pour",
      null,
      rules({
        "dew-margin": { measured: 5.6, limit: 3, unit: "K", probe: "slip-1/slab" },
        "slab-cold": { outcome: "caution", measured: 12.1, limit: 10, unit: "C", probe: "slip-1/slab" },
      }),
      conditions(12.1, 6.5),
    ),
    validUntil: at(1.2),
    pour: { latestStartAt: at(0.8), lastMixAt: at(1.4), finishBy: at(1.73), batchCapL: 18, fitsM2: 84 },
    next: { call: "wait", earliest: at(1.2), likely: at(2.9), chance: 0.82 },
    night: { hours: 16.5, chanceHolds: 0.94, lowestMarginK: [2.9, 4.1, 5], lowestAt: at(11) },
    window: { state: "open", opensAt: at(-2), closesAt: at(9), earned: 1.14 },
    film: film("base-epoxy", 0, -22, 1),
    nextCoat: 1,
  },
  [past(-12, -5, "wait", "cure-short"), past(-5, -1, "wait", "not-sustained", true), past(-1, null, "pour", null)],
  outlook(12.1, 6.5, [
    { from: at(0), to: at(2.9), call: "pour", chance: 0.91 },
    { from: at(2.9), to: at(14), call: "wait", chance: 0.74 },
    { from: at(14), to: at(36), call: "pour", chance: 0.58 },
  ]),
  -0.04,
);
const TOOLS_ZONE = boardZone(
  TOOLS,
  {
    ...call(
      "tools",
      "wait",
      "night-dew",
      rules({
        "dew-margin": { measured: 4.2, limit: 3, unit: "K", probe: "tools-1/slab" },
        "night-dew": { outcome: "stop", measured: 0.62, limit: 0.9, unit: "1", since: at(-3) },
      }),
      conditions(11.4, 7.2),
    ),
    next: { call: "pour", earliest: at(13), likely: at(15.5), chance: 0.71 },
    night: { hours: 25, chanceHolds: 0.62, lowestMarginK: [1.1, 2.4, 3.6], lowestAt: at(9.5) },
  },
  [past(-12, -3, "wait", "dew-margin"), past(-3, null, "wait", "night-dew")],
  outlook(11.4, 7.2, [
    { from: at(0), to: at(15.5), call: "wait", chance: 0.88 },
    { from: at(15.5), to: at(36), call: "pour", chance: 0.55 },
  ]),
  -0.06,
);
const GALLERY_ZONE = boardZone(
  GALLERY,
  {
    ...call(
      "gallery",
      "abrade",
      "window-closed",
      rules({
        "window-closed": { outcome: "stop", measured: 29.5, limit: 24, unit: "h", since: at(-1.5) },
        "air-damp": { outcome: "stop", measured: 88, limit: 85, unit: "%RH", probe: "gallery-1/rh" },
      }),
      conditions(14.2, 9.1),
    ),
    steps: ["abrade", "clean"],
    window: { state: "closed", opensAt: at(-16), closesAt: at(-1.5), earned: 2.3 },
    film: film("base-epoxy", 0, -31, 1),
    nextCoat: 1,
  },
  [past(-12, -1.5, "wait", "air-damp"), past(-1.5, null, "abrade", "window-closed")],
  outlook(14.2, 9.1, [{ from: at(0), to: at(36), call: "abrade", chance: 1 }]),
  -0.02,
);
const OFFICE_ZONE = boardZone(
  OFFICE,
  {
    ...call(
      "office",
      "finished",
      null,
      rules({ "dew-margin": { outcome: "caution", measured: 3.4, limit: 3, unit: "K", probe: "office-1/slab" } }),
      conditions(13, 9.6),
    ),
    window: { state: "none", opensAt: null, closesAt: null, earned: null },
    film: film("top-polyaspartic", 1, -5, 0.46),
    nextCoat: null,
  },
  [past(-12, -5, "pour", null), past(-5, null, "finished", null)],
  outlook(13, 9.6, [{ from: at(0), to: at(36), call: "finished", chance: 1 }]),
  -0.5,
);
const STORE_ZONE = boardZone(
  STORE,
  call("store", "wait", "data-missing", rules({ "data-missing": { outcome: "stop" } }, "unknown"), NOTHING),
  [past(-12, null, "wait", "data-missing")],
  null,
  null,
);

export const SAMPLE_BOARD: BoardBody = {
  site: SAMPLE_SITE,
  at: at(0),
  pace: 1,
  zones: [SLIP_ZONE, TOOLS_ZONE, GALLERY_ZONE, OFFICE_ZONE, STORE_ZONE],
  nodes: [
    heard(node("slip-1", "slip"), -0.04),
    heard(node("tools-1", "tools"), -0.06),
    heard(node("gallery-1", "gallery"), -0.02),
    heard(node("office-1", "office"), -2),
    heard(node("store-1", "store"), null),
    heard(node("outdoors", null), -0.1),
  ],
  outdoorC: -3.4,
};
