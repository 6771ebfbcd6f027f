// Runge-Kutta steps of fourth order, for the cure kinetics in the reference tables. The product integrates sheets instead.

/** y at `endH` from y(0) = `start`, with rate dy/dt = rate(t, y); steps of about `stepH`. */
export function integrate(
  rate: (atH: number, y: number) => number,
  start: number,
  endH: number,
  stepH = 0.005,
): number {
  const steps = Math.ceil(endH / stepH);
  const h = endH / steps;
  let y = start;
  for (let n = 0; n < steps; n++) {
    const t = n * h;
    const k1 = rate(t, y);
    const k2 = rate(t + h / 2, y + (h / 2) * k1);
    const k3 = rate(t + h / 2, y + (h / 2) * k2);
    const k4 = rate(t + h, y + h * k3);
    y += (h / 6) * (k1 + 2 * k2 + 2 * k3 + k4);
  }
  return y;
}
