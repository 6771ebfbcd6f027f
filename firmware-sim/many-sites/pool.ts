// Calls of a few nights by the real judge, and the same calls laid at another time.
import type { CallBody } from "#contract/call.ts";
import { bodyFromCall } from "#contract/call.ts";
import { readNightFile } from "#contract/night-file.ts";
import { isoFromMs, msFromIso } from "#contract/primitives.ts";
import { judgeZone } from "#core/judge/judge.ts";

/** The calls of one zone in the order of its night. */
export type NightOfCalls = readonly CallBody[];

/** Judges the moments that a night file asks for. Throws with the field where it is none. */
export function callsOfNight(file: unknown, most: number): NightOfCalls {
  const night = readNightFile(file);
  if (!night.ok) throw new RangeError(night.faults.map(({ field, reason }) => `${field} ${reason}`).join("; "));
  const { ask, log } = night.value;
  return ask.slice(0, most).map(({ atMs, zone }) => bodyFromCall(judgeZone(log, zone, atMs).call));
}

const TIME = /^\d{4}-\d{2}-\d{2}T[\d:.]+(Z|[+-]\d{2}:\d{2})$/;

function shifted(value: unknown, byMs: number): unknown {
  if (typeof value === "string") return TIME.test(value) ? isoFromMs(msFromIso(value) + byMs) : value;
  if (Array.isArray(value)) return value.map((one) => shifted(one, byMs));
  if (value === null || typeof value !== "object") return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, shifted(one, byMs)]));
}

/** The call as if it had been made at `atMs` of this zone. */
export function callAt(call: CallBody, site: string, zone: string, atMs: number): CallBody {
  return { ...(shifted(call, atMs - msFromIso(call.at)) as CallBody), site, zone };
}
