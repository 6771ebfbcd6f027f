// Heat as people logged it: on, off, running out, planned.
import { STEP_MS } from "#core/outlook/past.ts";
import type { ZoneRecord } from "#core/zone/record.ts";

type Heating = ZoneRecord["heating"];

const startMs = (entry: Heating[number]) => entry.fromMs ?? entry.atMs;

/** True if people logged heat that is on now; false if they logged it off or it ran out; null if they said nothing. */
export function loggedHeat(heating: Heating, nowMs: number): boolean | null {
  const last = heating.filter((entry) => startMs(entry) <= nowMs).at(-1);
  return last === undefined ? null : last.on && (last.toMs ?? Number.POSITIVE_INFINITY) > nowMs;
}

/** The step at which heat that is on now will end by the journal, plans included; null if no end is known. */
export function heatEndsStep(heating: Heating, nowMs: number): number | null {
  const last = heating.filter((entry) => startMs(entry) <= nowMs).at(-1);
  if (last === undefined || !last.on) return null;
  let endMs = last.toMs ?? Number.POSITIVE_INFINITY;
  const plans = heating.filter((entry) => startMs(entry) > nowMs).sort((a, b) => startMs(a) - startMs(b));
  for (const plan of plans) {
    if (!plan.on) endMs = Math.min(endMs, startMs(plan));
    else if (startMs(plan) <= endMs) endMs = Math.max(endMs, plan.toMs ?? Number.POSITIVE_INFINITY);
  }
  return Number.isFinite(endMs) ? Math.ceil((endMs - nowMs) / STEP_MS) : null;
}
