// Guards of the science: a number that is not one, or lies outside the range of a formula, is an error that names it.

/** A closed range of valid inputs, exported beside each formula. */
export interface ValidRange {
  readonly min: number;
  readonly max: number;
}

/** Throws unless `value` lies in the range. Written as a negated "inside", so that NaN cannot slip through. */
export function demandWithin(name: string, value: number, range: ValidRange): void {
  if (!(value >= range.min && value <= range.max)) {
    throw new RangeError(`${name} ${value} is outside ${range.min} to ${range.max}`);
  }
}

/** The nearest value that lies in the range: for guesses, which may go beyond what a formula takes. NaN stays NaN. */
export function keptWithin(value: number, range: ValidRange): number {
  return Math.min(Math.max(value, range.min), range.max);
}

/** Throws unless `value` is a finite number above zero. */
export function demandPositive(name: string, value: number): void {
  if (!(value > 0 && value < Number.POSITIVE_INFINITY)) throw new RangeError(`${name} ${value} is not above zero`);
}

/** Throws unless `value` is a finite number, zero or above. */
export function demandNotNegative(name: string, value: number): void {
  if (!(value >= 0 && value < Number.POSITIVE_INFINITY)) throw new RangeError(`${name} ${value} is not zero or above`);
}

/** Throws unless `value` is a finite number. */
export function demandFinite(name: string, value: number): void {
  if (!Number.isFinite(value)) throw new RangeError(`${name} ${value} is not a finite number`);
}
