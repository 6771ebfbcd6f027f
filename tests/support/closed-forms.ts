// Exact solutions of heat conduction, to measure the slab model by. The product does not use them.

/** Error function to 1e-15: the series below 3, the continued fraction of the complement above. */
export function erf(x: number): number {
  if (Math.abs(x) > 3) return Math.sign(x) * (1 - erfc(Math.abs(x)));
  let term = x;
  let sum = x;
  for (let n = 1; Math.abs(term) > 1e-17 * Math.abs(sum) && n < 200; n++) {
    term *= (-x * x) / n;
    sum += term / (2 * n + 1);
  }
  return (2 / Math.sqrt(Math.PI)) * sum;
}

/** Complement of the error function, without cancellation for large x. */
export function erfc(x: number): number {
  if (x <= 3) return 1 - erf(x);
  let fraction = 0;
  for (let n = 60; n >= 1; n--) fraction = n / 2 / (x + fraction);
  return Math.exp(-x * x) / (Math.sqrt(Math.PI) * (x + fraction));
}

/** x with erf(x) = value, by halving. NOT erfc: that reads a burial depth of 0.68 m as 0.92 m. */
export function inverseErf(value: number): number {
  let low = 0;
  let high = 6;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (erf(middle) < value) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** The n-th root (1, 2, ...) of zeta tan(zeta) = Bi, by halving between its poles. */
export function planeWallRoot(biot: number, n = 1): number {
  let low = (n - 1) * Math.PI;
  let high = (n - 0.5) * Math.PI;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (middle * Math.tan(middle) < biot) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

export function planeWallFactor(root: number): number {
  return (4 * Math.sin(root)) / (2 * root + Math.sin(2 * root));
}

export interface Wall {
  readonly thicknessM: number;
  readonly filmWPerM2K: number;
  readonly conductivityWPerMK: number;
  readonly diffusivityM2PerS: number;
  readonly startC: number;
  readonly airC: number;
}

/** Wall insulated on one face, air on the other: temperature at a share 0 (insulated) to 1 (air) of its thickness. */
export function planeWallC(wall: Wall, share: number, afterS: number, terms = 60): number {
  const biot = (wall.filmWPerM2K * wall.thicknessM) / wall.conductivityWPerMK;
  const fourier = (wall.diffusivityM2PerS * afterS) / wall.thicknessM ** 2;
  let theta = 0;
  for (let n = 1; n <= terms; n++) {
    const root = planeWallRoot(biot, n);
    theta += planeWallFactor(root) * Math.exp(-(root ** 2) * fourier) * Math.cos(root * share);
  }
  return wall.airC + theta * (wall.startC - wall.airC);
}

/** Half space whose surface jumps to `surfaceC`: Carslaw and Jaeger 2.4. */
export function surfaceStepC(
  startC: number,
  surfaceC: number,
  depthM: number,
  diffusivity: number,
  afterS: number,
): number {
  return surfaceC + (startC - surfaceC) * erf(depthM / (2 * Math.sqrt(diffusivity * afterS)));
}

/** Half space under air behind a film: Carslaw and Jaeger 2.7 equation 1. */
export function surfaceFilmC(wall: Omit<Wall, "thicknessM">, depthM: number, afterS: number): number {
  const spread = Math.sqrt(wall.diffusivityM2PerS * afterS);
  const beta = (wall.filmWPerM2K * spread) / wall.conductivityWPerMK;
  const eta = depthM / (2 * spread);
  const share =
    erfc(eta) - Math.exp((wall.filmWPerM2K * depthM) / wall.conductivityWPerMK + beta ** 2) * erfc(eta + beta);
  return wall.startC + share * (wall.airC - wall.startC);
}

/** Half space with a constant flux on its surface: Carslaw and Jaeger 2.9. */
export function surfaceFluxC(
  startC: number,
  fluxWPerM2: number,
  conductivity: number,
  depthM: number,
  diffusivity: number,
  afterS: number,
): number {
  const spread = Math.sqrt(diffusivity * afterS);
  const eta = depthM / (2 * spread);
  return (
    startC +
    (fluxWPerM2 / conductivity) * (2 * (spread / Math.sqrt(Math.PI)) * Math.exp(-eta * eta) - depthM * erfc(eta))
  );
}
