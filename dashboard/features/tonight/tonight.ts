// What the night holds for each zone, worst first, and what to do before leaving. Pure.
import type { BoardBody, BoardZoneBody } from "#contract/board.ts";
import type { RiskKind, TodoKind } from "../../text/en-tonight.ts";

/** 3: the floor itself is at stake. 2: it may be. 1: work will wait. 0: nothing is foreseen. */
export type Level = 0 | 1 | 2 | 3;

export interface Risk {
  readonly kind: RiskKind;
  readonly level: Level;
  /** 0 to 1, at the worst hour until morning; null where it cannot be told. */
  readonly chance: number | null;
  readonly atMs: number | null;
  /** Worse case (one night in ten) at that hour: margin, K, for dew; slab, °C, for cold. */
  readonly worst: number | null;
  readonly limit: number | null;
}

export interface ZoneTodo {
  readonly kind: TodoKind;
  readonly item: BoardZoneBody;
  readonly atMs: number | null;
  readonly finishMs: number | null;
}

export interface TonightZone {
  readonly item: BoardZoneBody;
  readonly risk: Risk;
}

export interface NodeWatch {
  readonly id: string;
  /** null = never heard. */
  readonly silentSinceMs: number | null;
  readonly silent: boolean;
  readonly batteryPct: number | null;
}

export interface Tonight {
  /** Worst first. */
  readonly zones: readonly TonightZone[];
  /** In the order in which they press: by their hour, then those without one. */
  readonly todos: readonly ZoneTodo[];
  /** A film or a window is at stake through cold or dew: what is open lets the cold in. */
  readonly shutDoors: boolean;
  readonly probes: readonly NodeWatch[];
}

/** Common practice, no source: a cell this low may not see the morning in the cold. */
const LOW_BATTERY_PCT = 20;
const SILENT_MS = 1_800_000;
/** From here on a chance is named; below it the night counts as quiet. */
const NAMED = 0.1;
const EVEN = 0.5;

const time = (iso: string | null | undefined) => (iso === null || iso === undefined ? null : Date.parse(iso));
const quiet: Risk = { kind: "quiet", level: 0, chance: null, atMs: null, worst: null, limit: null };

/** What only a person can clear, and what is better cleared by daylight. */
const HANDS: readonly string[] = [
  ...["data-missing", "data-stale", "data-fault", "data-conflict", "unit-doubt", "clock-doubt", "sheet-invalid"],
  ...["record-missing", "hold", "inspect-due", "dust", "hand-check", "slab-moisture", "film-soft"],
];

interface Fan {
  readonly q10: readonly number[];
  readonly q50: readonly number[];
  readonly q90: readonly number[];
}

/** Chance that a value lies below `limit`, by straight lines between its three quantiles; beyond them 5 and 95 %. */
export function chanceBelow(q10: number, q50: number, q90: number, limit: number): number {
  const between = (low: number, high: number, from: number) =>
    high > low ? from + (0.4 * (limit - low)) / (high - low) : from + 0.4;
  if (!(limit > q10)) return 0.05;
  if (limit <= q50) return between(q10, q50, 0.1);
  return limit <= q90 ? between(q50, q90, 0.5) : 0.95;
}

interface Worst {
  readonly chance: number;
  readonly atMs: number;
  readonly worst: number;
}

/** The hour until `untilMs` at which a value is likeliest below its limit. */
function worstHour(
  outlook: NonNullable<BoardZoneBody["outlook"]>,
  fan: Fan,
  limit: number,
  nowMs: number,
  untilMs: number,
): Worst | null {
  let found: Worst | null = null;
  fan.q50.forEach((q50, step) => {
    const atMs = Date.parse(outlook.from) + step * outlook.stepS * 1000;
    const q10 = fan.q10[step];
    const q90 = fan.q90[step];
    if (atMs < nowMs || atMs > untilMs || q10 === undefined || q90 === undefined) return;
    const chance = chanceBelow(q10, q50, q90, limit);
    // Of two hours that are equally likely to fail the one that goes deeper is told.
    if (found === null || chance > found.chance || (chance === found.chance && q10 < found.worst))
      found = { chance, atMs, worst: q10 };
  });
  return found;
}

const levelOf = (chance: number): Level => (chance >= EVEN ? 3 : chance >= NAMED ? 2 : 0);

/** Nobody watches: the call is without data, or the outlook does not reach into the night. */
const isBlindItem = ({ call }: BoardZoneBody) => call.limiting === "data-missing" || call.limiting === "data-stale";

function filmRisks(item: BoardZoneBody, nowMs: number, morningMs: number): Risk[] {
  const { outlook, call, marginLimitK } = item;
  const { film } = call;
  if (outlook === null || (film === null && !call.pouring)) return [];
  const risks: Risk[] = [];
  const sensitive = call.pouring || film?.dewSensitive === true;
  const dewSafeMs = call.pouring ? null : (time(outlook.film?.dewSafe.latest) ?? null);
  if (sensitive && marginLimitK !== null) {
    const untilMs = Math.min(morningMs, dewSafeMs ?? morningMs);
    const worst = worstHour(outlook, outlook.marginK, marginLimitK, nowMs, untilMs);
    if (worst !== null) risks.push({ kind: "dew", level: levelOf(worst.chance), ...worst, limit: marginLimitK });
  }
  // A coat that may not be walked on yet stops curing where the slab falls below the least that its sheet names.
  const walkMs = time(film?.walkOnAt);
  const least = call.rules.find(({ rule }) => rule === "slab-cold")?.limit ?? null;
  if (least !== null && (call.pouring || walkMs === null || walkMs > nowMs)) {
    const worst = worstHour(outlook, outlook.slabColdC, least, nowMs, morningMs);
    if (worst !== null) risks.push({ kind: "cold", level: levelOf(worst.chance), ...worst, limit: least });
  }
  return risks;
}

function windowRisks(item: BoardZoneBody, nowMs: number, morningMs: number): Risk[] {
  const { call, outlook } = item;
  if (call.nextCoat === null || call.call === "abrade") return [];
  const closesMs = time(call.window.closesAt) ?? time(outlook?.film?.closes.likely);
  const chance = outlook?.film?.chanceLost ?? 0;
  const risks: Risk[] = [];
  if (chance >= NAMED && call.window.state !== "closed")
    risks.push({ ...quiet, kind: "lost", level: levelOf(chance), chance, atMs: closesMs });
  else if (call.window.state === "open" && closesMs !== null && closesMs > nowMs && closesMs <= morningMs)
    risks.push({ ...quiet, kind: "closes", level: call.call === "pour" ? 2 : 3, atMs: closesMs });
  return risks;
}

function riskOf(item: BoardZoneBody, nowMs: number, morningMs: number): Risk {
  const { call } = item;
  if (isBlindItem(item)) return { ...quiet, kind: "blind", level: 3 };
  const risks = [...windowRisks(item, nowMs, morningMs), ...filmRisks(item, nowMs, morningMs)].filter(
    ({ level }) => level > 0,
  );
  const [worst] = risks.sort((a, b) => b.level - a.level || (b.chance ?? 1) - (a.chance ?? 1));
  if (worst !== undefined) return worst;
  const { night } = call;
  const unknown = call.limiting === "night-unknown";
  if (call.nextCoat !== null && (unknown || (night !== null && night.chanceHolds < 0.9)))
    return {
      ...{ kind: "night" as const, level: 1 as const, chance: night === null ? null : 1 - night.chanceHolds },
      ...{ atMs: time(night?.lowestAt), worst: night?.lowestMarginK[0] ?? null, limit: item.marginLimitK },
    };
  return quiet;
}

function todosOf({ item, risk }: TonightZone, morningMs: number): ZoneTodo[] {
  const { call } = item;
  const todo = (kind: TodoKind, atMs: number | null = null, finishMs: number | null = null): ZoneTodo => ({
    ...{ kind, item, atMs, finishMs },
  });
  const todos: ZoneTodo[] = [];
  const mixMs = time(call.pour?.lastMixAt);
  const finishMs = time(call.pour?.finishBy);
  if (call.call === "pour" || call.pouring) {
    // What ends only after the morning does not press tonight.
    if (mixMs !== null && mixMs <= morningMs) todos.push(todo("last-mix", mixMs, finishMs));
    else if (mixMs === null && finishMs !== null && finishMs <= morningMs) todos.push(todo("finish", finishMs));
  }
  if (call.limiting === "night-unknown") todos.push(todo("forecast"));
  else if (call.limiting !== null && HANDS.includes(call.limiting)) todos.push(todo("look"));
  if (call.call === "abrade") todos.push(todo("steps"));
  if (risk.kind === "closes") todos.push(todo("closes", risk.atMs));
  if (["lost", "dew", "cold"].includes(risk.kind)) todos.push(todo("heat", risk.atMs));
  return todos;
}

function watchesOf(nodes: BoardBody["nodes"], nowMs: number): NodeWatch[] {
  return nodes.flatMap((node) => {
    if (node.retired === true) return [];
    const heardMs = time(node.lastHeard);
    const silent = node.presence === "offline" || heardMs === null || nowMs - heardMs > SILENT_MS;
    const low = node.batteryPct !== null && node.batteryPct < LOW_BATTERY_PCT;
    return silent || low
      ? [{ id: node.node.id, silentSinceMs: heardMs, silent, batteryPct: low ? node.batteryPct : null }]
      : [];
  });
}

/** The night from `nowMs` to `morningMs`, both in the site's time. */
export function tonightOf(board: BoardBody, nowMs: number, morningMs: number): Tonight {
  const zones = board.zones
    .map((item) => ({ item, risk: riskOf(item, nowMs, morningMs) }))
    .sort((a, b) => b.risk.level - a.risk.level || (b.risk.chance ?? 1) - (a.risk.chance ?? 1));
  const hour = (todo: ZoneTodo) => (todo.kind === "heat" ? null : todo.atMs) ?? Number.POSITIVE_INFINITY;
  const todos = zones
    .flatMap((zone) => todosOf(zone, morningMs))
    .sort((a, b) => (hour(a) === hour(b) ? 0 : hour(a) - hour(b)));
  return {
    ...{ zones, todos, probes: watchesOf(board.nodes, nowMs) },
    shutDoors: zones.some(({ risk }) => risk.level >= 2 && ["dew", "cold", "lost"].includes(risk.kind)),
  };
}
