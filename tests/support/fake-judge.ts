// A judge for tests that are not about judging: it says pour on a fresh slab reading above 10 °C, else wait; and can fail.
import type { Call } from "../../server/core/judge/call.ts";
import type { Judged } from "../../server/core/judge/judged.ts";
import type { SiteLog } from "../../server/core/zone/site.ts";

export interface FakeJudge {
  judgeZone(log: SiteLog, zone: string, nowMs: number, heardByMs?: number): Judged;
  spotCheck(): Call;
  /** Zones on which it throws. */
  readonly broken: Set<string>;
  readonly judged: { zone: string; nowMs: number; heardByMs: number }[];
}

const FRESH_MS = 30 * 60_000;

export function fakeJudge(): FakeJudge {
  const broken = new Set<string>();
  const judged: FakeJudge["judged"] = [];
  return {
    broken,
    judged,
    judgeZone(log, zone, nowMs, heardByMs = nowMs) {
      judged.push({ zone, nowMs, heardByMs });
      if (broken.has(zone)) throw new TypeError(`no idea of ${zone}`);
      const nodes = log.nodes.filter((node) => node.zone === zone).map(({ id }) => id);
      const heard = log.series
        .filter(({ node, quantity }) => nodes.includes(node) && quantity.startsWith("slab"))
        .flatMap(({ atMs, values, heardMs }) =>
          atMs
            .slice()
            .flatMap((at, index) =>
              (heardMs.at(index) as number) <= heardByMs && at <= nowMs
                ? [{ at, slabC: values.at(index) as number }]
                : [],
            ),
        )
        .sort((a, b) => a.at - b.at)
        .at(-1);
      const entries = log.journal.filter(
        (entry) => entry.zone === zone && entry.heardMs <= heardByMs && entry.atMs <= nowMs,
      );
      const held = entries.at(-1)?.did === "held";
      const stale = heard === undefined || nowMs - heard.at > FRESH_MS;
      const cold = heard !== undefined && heard.slabC <= 10;
      const limiting = stale ? "data-stale" : held ? "hold" : cold ? "slab-cold" : null;
      const call: Call = {
        site: log.site,
        zone,
        atMs: nowMs,
        call: limiting === null ? "pour" : "wait",
        limiting,
        rules: [
          {
            rule: limiting ?? "slab-cold",
            outcome: limiting === null ? "pass" : "stop",
            measured: heard?.slabC ?? null,
            limit: 10,
            unit: "C",
            probe: null,
            sinceMs: null,
            detail: null,
          },
        ],
        steps: [],
        validUntilMs: null,
        pour: null,
        next: null,
        night: null,
        window: { state: "none", opensAtMs: null, closesAtMs: null, earned: null },
        film: null,
        nextCoat: 0,
        pouring: entries.some((entry) => entry.did === "pouring"),
        conditions: {
          slabColdC: heard?.slabC ?? null,
          slabHotC: null,
          airC: null,
          rhPct: null,
          dewPointC: null,
          marginK: null,
          marginUncertaintyK: null,
          slabSlopeKPerH: null,
          ageS: heard === undefined ? null : (nowMs - heard.at) / 1000,
        },
        ruleVersion: "fake",
      };
      return { call, view: null, marginLimitK: 3, watch: { film: null, heat: null } };
    },
    spotCheck() {
      throw new Error("the fake judge checks no spots");
    },
  };
}
