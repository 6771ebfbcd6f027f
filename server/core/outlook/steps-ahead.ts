// The steps of a member: ten minutes as far as the outlook reaches, then hours at once, with the time between laid straight.

/** The outlook reaches 36 h; members run on, in longer steps, so that a late pour's night can be judged as well. */
export const OUTLOOK_STEPS = 216;
/** Ten-minute steps of a member: 72 h, so that the night of a pour a day and a half from now can be judged as well. */
export const MEMBER_STEPS = 432;
/** Steps that are taken at once beyond the reach of the outlook. */
export const LONG_STEPS = 6;

/** How many steps are reckoned, the first of them now. Before `SHORT_END` each follows the last, from there on they are long. */
export const TAKEN_END = OUTLOOK_STEPS + (MEMBER_STEPS - OUTLOOK_STEPS) / LONG_STEPS;
export const SHORT_END = OUTLOOK_STEPS;
/** Where they stand among all steps; the last of them is the last of all. */
export const TAKEN = Int32Array.from({ length: TAKEN_END }, (_, place) =>
  place < SHORT_END ? place : SHORT_END - 1 + LONG_STEPS * (place - SHORT_END + 1),
);

/** The first place at which a step, or what lies beyond it, is reckoned; `TAKEN_END` where none is. */
export const placeOf = (step: number): number =>
  step < SHORT_END ? step : Math.min(TAKEN_END, SHORT_END - 1 + Math.ceil((step - SHORT_END + 1) / LONG_STEPS));

/** Spreads what stands at the taken places of the column at `begin` over all its steps, straight between long ones. */
export function layOut(memory: Float64Array, begin: number): void {
  // From the end, since each place is read before what comes to stand there is written.
  let last = memory[begin + TAKEN_END - 1] as number;
  for (let place = TAKEN_END - 1, to = begin + MEMBER_STEPS - 1; place >= SHORT_END; place--) {
    const first = memory[begin + place - 1] as number;
    const rise = (last - first) / LONG_STEPS;
    memory[to--] = last;
    for (let part = LONG_STEPS - 1; part > 0; part--) memory[to--] = first + rise * part;
    last = first;
  }
}
