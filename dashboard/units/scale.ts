// Round scales for axes of degrees. Pure.

export interface Scale {
  readonly domain: [number, number];
  readonly ticks: number[];
}

/** A scale of round degrees around all that is drawn, so that the axis does not jump with every reading. */
export function degreeScale(values: readonly (number | null | undefined)[]): Scale {
  const all = values.filter((value) => typeof value === "number");
  if (all.length === 0) return { domain: [0, 10], ticks: [0, 5, 10] };
  const low = Math.min(...all) - 0.5;
  const high = Math.max(...all) + 0.5;
  const step = [1, 2, 5, 10, 20].find((one) => (high - low) / one <= 5) ?? 50;
  const first = Math.floor(low / step);
  const last = Math.ceil(high / step);
  return {
    domain: [first * step, last * step],
    ticks: Array.from({ length: last - first + 1 }, (_, index) => (first + index) * step),
  };
}
