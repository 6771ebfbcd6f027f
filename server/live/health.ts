// The state of the server: its parts, its counters, and the same for Prometheus.
import type { HealthBody, PartHealth } from "#contract/health.ts";
import { isoFromMs, isoOrNull } from "#contract/primitives.ts";
import type { Counters } from "./counters.ts";

export interface HealthParts {
  readonly startId: string;
  readonly startedMs: number;
  readonly now: () => number;
  readonly lastMessageMs: () => number | null;
  /** Parts by name, each asked when somebody looks. */
  readonly parts: Readonly<Record<string, () => PartHealth>>;
  readonly counters: Counters;
  /** Numbers that go up and down: queues, clients. */
  readonly gauges: () => Readonly<Record<string, number>>;
}

const WORST = ["up", "degraded", "down"] as const;

function worstOf(states: readonly PartHealth["state"][]): PartHealth["state"] {
  return WORST[Math.max(0, ...states.map((state) => WORST.indexOf(state)))] ?? "up";
}

/** `quarantined.clock` becomes `nightslab_quarantined_total{reason="clock"}`. */
function metricLine(
  name: string,
  value: number,
  kind: "counter" | "gauge",
): { readonly family: string; readonly line: string } {
  const [base = "", ...rest] = name.split(".");
  const snake = base.replace(/[A-Z]/g, (capital) => `_${capital.toLowerCase()}`);
  const family = `nightslab_${snake}${kind === "counter" ? "_total" : ""}`;
  const label = rest.length === 0 ? "" : `{reason="${rest.join(".").replace(/["\\\n]/g, " ")}"}`;
  return { family, line: `${family}${label} ${value}` };
}

function familiesText(values: Readonly<Record<string, number>>, kind: "counter" | "gauge"): string[] {
  const families = new Map<string, string[]>();
  for (const [name, value] of Object.entries(values)) {
    const { family, line } = metricLine(name, value, kind);
    families.set(family, [...(families.get(family) ?? []), line]);
  }
  return [...families].flatMap(([family, lines]) => [`# TYPE ${family} ${kind}`, ...lines]);
}

export function createHealthDesk({ startId, startedMs, now, lastMessageMs, parts, counters, gauges }: HealthParts) {
  const looked = () => Object.fromEntries(Object.entries(parts).map(([name, look]) => [name, look()]));
  return {
    health(): HealthBody {
      const seen = looked();
      return {
        state: worstOf(Object.values(seen).map(({ state }) => state)),
        startId,
        startedAt: isoFromMs(startedMs),
        at: isoFromMs(now()),
        lastMessageAt: isoOrNull(lastMessageMs()),
        parts: seen,
        counters: { ...counters.all(), ...gauges() },
      };
    },
    metrics(): string {
      const { lagP50Ms = 0, lagP99Ms = 0, ...counts } = counters.all();
      const states = Object.entries(looked()).map(
        ([name, { state }]) => `nightslab_part_up{part="${name}"} ${state === "down" ? 0 : 1}`,
      );
      const lines = [
        ...familiesText(counts, "counter"),
        ...familiesText({ ...gauges(), lagP50Ms, lagP99Ms }, "gauge"),
        "# TYPE nightslab_part_up gauge",
        ...states,
      ];
      return `${lines.join("\n")}\n`;
    },
  };
}
