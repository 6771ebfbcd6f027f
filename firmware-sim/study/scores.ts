// Proper scores of forecasts, as pure functions: chances of a yes or no, and quantiles of a number.

const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** Brier score, mean of (p - o)^2: 0 to 1, less is better. NaN without cases. */
export function brier(p: readonly number[], o: readonly number[]): number {
  return mean(p.map((chance, i) => (chance - (o[i] as number)) ** 2));
}

export interface BrierParts {
  readonly reliability: number;
  readonly resolution: number;
  readonly uncertainty: number;
}

/** Murphy 1973: BS = reliability - resolution + uncertainty, exact where equal chances are grouped, as here. */
export function brierParts(p: readonly number[], o: readonly number[]): BrierParts {
  const groups = new Map<number, number[]>();
  for (const [i, chance] of p.entries()) {
    const group = groups.get(chance) ?? [];
    group.push(o[i] as number);
    groups.set(chance, group);
  }
  const rate = mean(o);
  let reliability = 0;
  let resolution = 0;
  for (const [chance, outcomes] of groups) {
    const seen = mean(outcomes);
    reliability += (outcomes.length * (chance - seen) ** 2) / p.length;
    resolution += (outcomes.length * (seen - rate) ** 2) / p.length;
  }
  return { reliability, resolution, uncertainty: rate * (1 - rate) };
}

/** Skill of a score against a reference score, both with 0 as perfect: 1 perfect, 0 no better, below 0 worse. */
export function skill(score: number, reference: number): number {
  return 1 - score / reference;
}

/** Skill against the rate of the cases themselves. */
export function brierSkill(p: readonly number[], o: readonly number[]): number {
  const rate = mean(o);
  return skill(brier(p, o), rate * (1 - rate));
}

export interface ReliabilityRow {
  readonly from: number;
  readonly to: number;
  readonly count: number;
  /** Mean chance told, and share that came true; NaN where no case is. */
  readonly told: number;
  readonly seen: number;
}

/** Cases by tenths of the chance told; the last tenth includes 1. */
export function reliabilityTable(p: readonly number[], o: readonly number[]): readonly ReliabilityRow[] {
  return Array.from({ length: 10 }, (_, tenth) => {
    const cases = p.flatMap((chance, i) => (Math.min(9, Math.floor(chance * 10 + 1e-9)) === tenth ? [i] : []));
    return {
      from: tenth / 10,
      to: (tenth + 1) / 10,
      count: cases.length,
      told: mean(cases.map((i) => p[i] as number)),
      seen: mean(cases.map((i) => o[i] as number)),
    };
  });
}

/** Pinball loss of a quantile `q` at level `tau` for the outcome `y`. */
export function pinball(q: number, tau: number, y: number): number {
  return y >= q ? tau * (y - q) : (1 - tau) * (q - y);
}

/** Interval score of a central interval that should hold all but `alpha` (Gneiting and Raftery 2007). */
export function intervalScore(low: number, high: number, alpha: number, y: number): number {
  return high - low + (2 / alpha) * (Math.max(0, low - y) + Math.max(0, y - high));
}

export interface Coverage {
  readonly share: number;
  readonly standardError: number;
}

/** Share of outcomes within their intervals, with its standard error if cases were independent. */
export function coverage(low: readonly number[], high: readonly number[], y: readonly number[]): Coverage {
  const share = mean(y.map((value, i) => (value >= (low[i] as number) && value <= (high[i] as number) ? 1 : 0)));
  return { share, standardError: Math.sqrt((share * (1 - share)) / y.length) };
}

/** Quantile of a list, straight between neighbours; NaN of an empty one. */
export function quantileOf(values: readonly number[], level: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  const place = level * (sorted.length - 1);
  const low = sorted[Math.floor(place)] ?? Number.NaN;
  const high = sorted[Math.ceil(place)] ?? Number.NaN;
  return low + (high - low) * (place - Math.floor(place));
}

export { mean };
