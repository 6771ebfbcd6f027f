// What each zone asks of people and when, in walking order. Pure.
import type { BoardZoneBody } from "#contract/board.ts";
import type { RuleId } from "#core/judge/call.ts";
import { isBlind, isLosing } from "../../text/sentence.ts";

export type Errand = "pour" | "pouring" | "steps" | "hands" | "back" | "lost" | "abrade" | "walk" | "done" | "nothing";

export interface Visit {
  readonly item: BoardZoneBody;
  readonly errand: Errand;
  /** When to be there; null = now for work that waits already, or never for `done` and `nothing`. */
  readonly atMs: number | null;
  readonly earliestMs: number | null;
  /** Last moment to begin, so that the last square metre is down in time. */
  readonly startByMs: number | null;
  readonly chance: number | null;
  readonly closesMs: number | null;
  readonly closesFirst: boolean;
}

const HOUR_MS = 3_600_000;
const AHEAD_MS = 36 * HOUR_MS;

/** What only a person clears: the reason to go there is now, whatever the air does. */
const HANDS: readonly RuleId[] = [
  "data-missing",
  "data-stale",
  "data-fault",
  "data-conflict",
  "unit-doubt",
  "clock-doubt",
  "sheet-invalid",
  "record-missing",
  "hold",
  "inspect-due",
  "dust",
  "slab-moisture",
  "resin-temp",
  "hand-check",
  "night-unknown",
];
/** These may pass by themselves; a person is asked only where nothing is foreseen. */
const HANDS_LATER: readonly RuleId[] = ["film-soft", "surface-damp", "filler-soft"];

const time = (iso: string | null | undefined) => (iso === null || iso === undefined ? null : Date.parse(iso));
const earliest = (...times: readonly (number | null)[]) => {
  const known = times.filter((one) => one !== null);
  return known.length === 0 ? null : Math.min(...known);
};

type Plain = Omit<Visit, "item" | "closesMs" | "closesFirst">;
const plain = (errand: Errand, more: Partial<Plain> = {}): Plain => ({
  errand,
  atMs: null,
  earliestMs: null,
  startByMs: null,
  chance: null,
  ...more,
});

/** The next pour that is foreseen: from the call itself, else from the strip ahead. */
function pourAhead(item: BoardZoneBody, nowMs: number): Plain | null {
  const { next } = item.call;
  const calls = item.outlook?.calls ?? [];
  const first = calls.findIndex((one) => one.call === "pour" && Date.parse(one.to) > nowMs);
  const stretch = calls[first];
  const fromNext = next?.call === "pour" ? next : null;
  if (fromNext === null && stretch === undefined) return null;
  const atMs = Math.max(nowMs, fromNext === null ? Date.parse(stretch?.from ?? "") : Date.parse(fromNext.likely));
  if (atMs > nowMs + AHEAD_MS) return null;
  // The strip is split where its chance falls: the hours to pour end where another call begins.
  let endsMs: number | null = null;
  for (const one of stretch === undefined ? [] : calls.slice(first)) {
    if (one.call !== "pour") break;
    endsMs = Date.parse(one.to);
  }
  const last = calls.at(-1);
  if (last !== undefined && endsMs === Date.parse(last.to)) endsMs = null;
  const pourMs = (item.zone.areaM2 / item.zone.pourM2PerH) * HOUR_MS;
  const closesMs = earliest(time(item.call.window.closesAt), time(item.outlook?.film?.closes.earliest));
  return plain("back", {
    atMs,
    earliestMs: fromNext === null ? null : Math.max(nowMs, Date.parse(fromNext.earliest)),
    startByMs: earliest(endsMs, closesMs === null ? null : closesMs - pourMs),
    chance: fromNext?.chance ?? stretch?.chance ?? null,
  });
}

function abradeAhead(item: BoardZoneBody, nowMs: number): { atMs: number; chance: number } | null {
  const { next } = item.call;
  if (next?.call === "abrade") return { atMs: Date.parse(next.likely), chance: next.chance };
  const stretch = item.outlook?.calls.find((one) => one.call === "abrade" && Date.parse(one.to) > nowMs);
  return stretch === undefined ? null : { atMs: Date.parse(stretch.from), chance: stretch.chance };
}

function waitingVisit(item: BoardZoneBody, nowMs: number): Plain {
  const { limiting } = item.call;
  if (isBlind(item.call) || (limiting !== null && HANDS.includes(limiting))) return plain("hands");
  const abrade = abradeAhead(item, nowMs);
  if (isLosing(item))
    return plain("lost", { atMs: abrade?.atMs ?? null, chance: item.outlook?.film?.chanceLost ?? null });
  const pour = pourAhead(item, nowMs);
  if (pour !== null) return pour;
  if (abrade !== null && abrade.atMs <= nowMs + AHEAD_MS) return plain("abrade", abrade);
  return plain(limiting !== null && HANDS_LATER.includes(limiting) ? "hands" : "nothing");
}

function finishedVisit(item: BoardZoneBody, nowMs: number): Plain {
  const walkMs = time(item.outlook?.film?.walkOn.likely) ?? time(item.call.film?.walkOnAt);
  if (walkMs === null || walkMs <= nowMs) return plain("done");
  return plain("walk", {
    atMs: walkMs,
    earliestMs: time(item.outlook?.film?.walkOn.earliest),
    chance: item.outlook?.film?.walkOn.chance ?? null,
  });
}

function visitOf(item: BoardZoneBody, nowMs: number): Plain {
  const { call } = item;
  if (call.pouring) return plain("pouring", { startByMs: time(call.pour?.finishBy) ?? time(call.validUntil) ?? null });
  switch (call.call) {
    case "pour":
      return plain("pour", { startByMs: time(call.pour?.latestStartAt) ?? time(call.validUntil) });
    case "abrade":
      return plain("steps");
    case "finished":
      return finishedVisit(item, nowMs);
    case "wait":
      return waitingVisit(item, nowMs);
  }
}

const RANK: Readonly<Record<Errand, number>> = {
  pouring: 0,
  pour: 0,
  steps: 1,
  hands: 2,
  back: 3,
  lost: 3,
  abrade: 3,
  walk: 3,
  nothing: 4,
  done: 5,
};

/** All zones in the order in which to walk them, the one that closes first marked. */
export function visitsOf(zones: readonly BoardZoneBody[], nowMs: number): Visit[] {
  const visits = zones.map((item) => {
    const closesMs = time(item.call.window.closesAt) ?? time(item.outlook?.film?.closes.likely);
    const open = item.call.nextCoat !== null && closesMs !== null && closesMs > nowMs && closesMs <= nowMs + AHEAD_MS;
    return { item, ...visitOf(item, nowMs), closesMs: open ? closesMs : null };
  });
  const racing = visits.filter(({ errand }) => ["pour", "pouring", "back", "hands"].includes(errand));
  const firstMs = earliest(...racing.map(({ closesMs }) => closesMs));
  const key = (visit: (typeof visits)[number]) =>
    (RANK[visit.errand] === 0 ? visit.startByMs : visit.atMs) ?? Number.POSITIVE_INFINITY;
  // Infinity minus infinity is no number: where neither is known the order of the board stays.
  const by = (a: number, b: number) => (a === b ? 0 : a - b);
  return visits
    .map((visit) => ({
      ...visit,
      closesFirst: firstMs !== null && visit.closesMs === firstMs && racing.includes(visit),
    }))
    .sort((a, b) => RANK[a.errand] - RANK[b.errand] || by(key(a), key(b)));
}
