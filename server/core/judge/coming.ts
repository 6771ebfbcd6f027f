// From the members' calls to what people are told: the next different call, how long this one stands, the strip ahead.
import type { CallWord, NextCall } from "#core/judge/call.ts";
import { CALL_CODES, type MemberCalls } from "#core/judge/look-ahead.ts";
import type { CallAhead, Outlook } from "#core/outlook/outlook.ts";
import { weightedQuantile } from "#core/outlook/quantile.ts";
import { weightSums } from "#core/outlook/weight-sums.ts";

/** Less likely than this is not announced. */
const NEXT_FROM_CHANCE = 0.1;
/** Stricter words win a tie. */
const STRICTNESS: Record<CallWord, number> = { pour: 0, finished: 0, wait: 1, abrade: 2 };
/** Codes, strictest first, so that it stands when chances are equal. */
const STRICTEST_FIRST = [2, 1, 0, 3] as const;
const STANDS_FROM_CHANCE = 0.9;

function firstChange(calls: MemberCalls): number {
  for (let step = 1; step < calls.length; step++) if (calls[step] !== calls[0]) return step;
  return calls.length;
}

/** The most likely next different call within the outlook; null if none is foreseen. */
export function nextOf(outlook: Outlook, members: readonly MemberCalls[]): NextCall | null {
  const byWord = new Map<CallWord, { times: number[]; weights: number[]; chance: number }>();
  for (const [index, calls] of members.entries()) {
    const step = firstChange(calls);
    const call = CALL_CODES[calls[step] ?? -1];
    if (call === undefined) continue;
    const found = byWord.get(call) ?? { times: [], weights: [], chance: 0 };
    const weight = outlook.members[index]?.weight ?? 0;
    found.times.push(outlook.fromMs + step * outlook.stepMs);
    found.weights.push(weight);
    found.chance += weight;
    byWord.set(call, found);
  }
  const best = [...byWord.entries()].sort(([a, x], [b, y]) => y.chance - x.chance || STRICTNESS[b] - STRICTNESS[a])[0];
  if (best === undefined || best[1].chance < NEXT_FROM_CHANCE) return null;
  const [call, { times, weights, chance }] = best;
  // A call seen at a step came about somewhere within the step before it.
  return {
    call,
    earliestMs: Math.max(outlook.fromMs, weightedQuantile(times, weights, 0.1) - outlook.stepMs),
    likelyMs: weightedQuantile(times, weights, 0.5) - outlook.stepMs / 2,
    chance: Math.min(1, chance),
  };
}

/** The chance that the call of now still stands, at each step. */
function standingChances({ steps, members }: Outlook, calls: readonly MemberCalls[]): Float64Array {
  const stands = new Float64Array(steps);
  const sums = weightSums(members);
  if (sums !== null) {
    const changes = new Int32Array(steps + 1);
    for (const each of calls) {
      const change = Math.min(firstChange(each), steps);
      changes[change] = (changes[change] as number) + 1;
    }
    let count = calls.length;
    for (let step = 1; step < steps; step++) {
      count -= changes[step] as number;
      stands[step] = sums[count] as number;
    }
    return stands;
  }
  for (const [index, each] of calls.entries()) {
    const change = Math.min(firstChange(each), steps);
    const weight = members[index]?.weight ?? 0;
    for (let step = 1; step < change; step++) stands[step] = (stands[step] as number) + weight;
  }
  return stands;
}

/** First time at which the chance that the call still stands falls below 0.9; null if beyond the outlook. */
export function validUntilOf(outlook: Outlook, members: readonly MemberCalls[]): number | null {
  const stands = standingChances(outlook, members);
  for (let step = 1; step < outlook.steps; step++)
    if ((stands[step] as number) < STANDS_FROM_CHANCE - 1e-9) return outlook.fromMs + step * outlook.stepMs;
  return null;
}

const CODES = CALL_CODES.length;

/** The chance of each call at each step, those of a step beside each other. */
function callChances({ steps, members }: Outlook, calls: readonly MemberCalls[]): Float64Array {
  const chances = new Float64Array(CODES * steps);
  const sums = weightSums(members);
  if (sums !== null) {
    // A call stands for many steps: counted in where it begins and out where it ends.
    const counts = new Int32Array(CODES * (steps + 1));
    const count = (step: number, code: number, by: 1 | -1) => {
      counts[CODES * step + code] = (counts[CODES * step + code] as number) + by;
    };
    for (const each of calls) {
      let code = each[0] as number;
      count(0, code, 1);
      for (let step = 1; step < steps; step++) {
        const next = each[step] as number;
        if (next === code) continue;
        count(step, code, -1);
        count(step, next, 1);
        code = next;
      }
    }
    for (let at = 0; at < chances.length; at++) {
      if (at >= CODES) counts[at] = (counts[at] as number) + (counts[at - CODES] as number);
      chances[at] = sums[counts[at] as number] as number;
    }
    return chances;
  }
  // A member at a time, since that is how their calls lie in memory.
  for (const [index, each] of calls.entries()) {
    const weight = members[index]?.weight ?? 0;
    for (let step = 0; step < steps; step++) {
      const at = CODES * step + (each[step] as number);
      chances[at] = (chances[at] as number) + weight;
    }
  }
  return chances;
}

/** The strip ahead: at each step the likeliest call, joined into stretches with their lowest chance. */
export function stripOf(outlook: Outlook, members: readonly MemberCalls[]): CallAhead[] {
  const all = callChances(outlook, members);
  const strip: { fromMs: number; toMs: number; call: CallWord; chance: number }[] = [];
  let began = 1;
  for (let step = 0; step < outlook.steps; step++) {
    const chances = all.subarray(CODES * step, CODES * (step + 1));
    const code = STRICTEST_FIRST.reduce<number>(
      (best, each) => ((chances[each] as number) > (chances[best] as number) + 1e-12 ? each : best),
      STRICTEST_FIRST[0],
    );
    const call = CALL_CODES[code] as CallWord;
    const chance = Math.min(1, chances[code] as number);
    const fromMs = outlook.fromMs + step * outlook.stepMs;
    const last = strip.at(-1);
    // A stretch is split where confidence has moved by a tenth since it began, so that the fading is seen.
    if (last !== undefined && last.call === call && Math.abs(began - chance) < 0.1) {
      last.toMs = fromMs + outlook.stepMs;
      last.chance = Math.min(last.chance, chance);
    } else {
      strip.push({ fromMs, toMs: fromMs + outlook.stepMs, call, chance });
      began = chance;
    }
  }
  return strip;
}
