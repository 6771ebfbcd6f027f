// One column of floor: layers in finite volumes, implicit in time, with the room above and ground, air or nothing below.

export interface Layer {
  readonly thicknessM: number;
  readonly conductivityWPerMK: number;
  readonly densityKgPerM3: number;
  readonly heatJPerKgK: number;
  readonly cells: number;
}

export type Below =
  /** Ground at a steady temperature under the last layer. */
  | { readonly kind: "ground"; readonly groundC: number }
  /** Outdoor air (an undercroft, a dock) under the last layer. */
  | { readonly kind: "outdoors"; readonly filmWPerM2K: number }
  /** Nothing passes. */
  | { readonly kind: "none" };

export interface SlabSpec {
  /** Top first. */
  readonly layers: readonly Layer[];
  readonly below: Below;
  /** Conductance from the top layer to outdoors along an edge or threshold, W per K and m2 of floor. */
  readonly edgeWPerM2K: number;
}

/** What the slab meets during a step. */
export interface SlabRoom {
  readonly airC: number;
  readonly radiantC: number;
  readonly outdoorC: number;
  readonly convectionWPerM2K: number;
  readonly radiationWPerM2K: number;
  /** Sun and latent heat taken in at the surface, W/m2. */
  readonly gainWPerM2: number;
}

export interface SlabFluxes {
  readonly surfaceC: number;
  /** Heat taken from the air, from the walls and roof, from below and from the edge, W/m2; positive into the slab. */
  readonly fromAirWPerM2: number;
  readonly fromWallsWPerM2: number;
  readonly fromBelowWPerM2: number;
  readonly fromEdgeWPerM2: number;
}

/** Concrete of the usual kind, 2300 kg/m3. */
export const concrete = (thicknessM: number, cells: number, conductivityWPerMK = 1.6): Layer => ({
  thicknessM,
  cells,
  conductivityWPerMK,
  densityKgPerM3: 2300,
  heatJPerKgK: 880,
});
export const soil = (thicknessM: number, cells: number): Layer => ({
  thicknessM,
  cells,
  conductivityWPerMK: 1.5,
  densityKgPerM3: 1800,
  heatJPerKgK: 1100,
});
export const foam = (thicknessM: number, cells: number): Layer => ({
  thicknessM,
  cells,
  conductivityWPerMK: 0.035,
  densityKgPerM3: 30,
  heatJPerKgK: 1450,
});

export class Slab {
  readonly tempsC: Float64Array;
  private readonly heatJPerM2K: Float64Array;
  /** Conductance from each cell to the one under it; the last is to what lies below. */
  private readonly downWPerM2K: Float64Array;
  private readonly edgeWPerM2K: Float64Array;
  private readonly topHalfM2KPerW: number;
  private readonly upper: Float64Array;
  private readonly right: Float64Array;

  constructor(
    private readonly spec: SlabSpec,
    startC: number,
  ) {
    const thick: number[] = [];
    const conductivity: number[] = [];
    const heat: number[] = [];
    for (const layer of spec.layers) {
      for (let i = 0; i < layer.cells; i++) {
        thick.push(layer.thicknessM / layer.cells);
        conductivity.push(layer.conductivityWPerMK);
        heat.push((layer.thicknessM / layer.cells) * layer.densityKgPerM3 * layer.heatJPerKgK);
      }
    }
    const n = thick.length;
    if (n < 2) throw new RangeError("a slab needs at least two cells");
    this.tempsC = new Float64Array(n).fill(startC);
    this.heatJPerM2K = Float64Array.from(heat);
    this.downWPerM2K = new Float64Array(n);
    this.edgeWPerM2K = new Float64Array(n);
    this.upper = new Float64Array(n);
    this.right = new Float64Array(n);
    const half = thick.map((m, i) => m / 2 / (conductivity[i] as number));
    this.topHalfM2KPerW = half[0] as number;
    for (let i = 0; i + 1 < n; i++) this.downWPerM2K[i] = 1 / ((half[i] as number) + (half[i + 1] as number));
    const { below } = spec;
    const last = half[n - 1] as number;
    if (below.kind === "ground") this.downWPerM2K[n - 1] = 1 / last;
    if (below.kind === "outdoors") this.downWPerM2K[n - 1] = 1 / (last + 1 / below.filmWPerM2K);
    const topCells = spec.layers[0]?.cells ?? 1;
    for (let i = 0; i < topCells; i++) this.edgeWPerM2K[i] = spec.edgeWPerM2K / topCells;
  }

  /** Heat held above 0 °C, J/m2. */
  heldJPerM2(): number {
    return this.tempsC.reduce((sum, tempC, i) => sum + tempC * (this.heatJPerM2K[i] as number), 0);
  }

  /** Backward Euler over `dtS`: stable at any step, exact in its heat balance. */
  step(dtS: number, room: SlabRoom): SlabFluxes {
    const { tempsC, heatJPerM2K, downWPerM2K, edgeWPerM2K, upper, right } = this;
    const n = tempsC.length;
    const film = room.convectionWPerM2K + room.radiationWPerM2K;
    const equivalentC =
      (room.convectionWPerM2K * room.airC + room.radiationWPerM2K * room.radiantC + room.gainWPerM2) / film;
    const top = 1 / (1 / film + this.topHalfM2KPerW);
    const belowC = this.spec.below.kind === "ground" ? this.spec.below.groundC : room.outdoorC;
    for (let i = 0; i < n; i++) {
      const heat = (heatJPerM2K[i] as number) / dtS;
      const up = i === 0 ? top : (downWPerM2K[i - 1] as number);
      const down = downWPerM2K[i] as number;
      const edge = edgeWPerM2K[i] as number;
      let rhs = heat * (tempsC[i] as number) + edge * room.outdoorC;
      if (i === 0) rhs += top * equivalentC;
      if (i === n - 1) rhs += down * belowC;
      const lower = i === 0 ? 0 : -up;
      const diagonal = heat + up + down + edge - lower * (i === 0 ? 0 : (upper[i - 1] as number));
      upper[i] = i === n - 1 ? 0 : -down / diagonal;
      right[i] = (rhs - lower * (i === 0 ? 0 : (right[i - 1] as number))) / diagonal;
    }
    for (let i = n - 1; i >= 0; i--) {
      tempsC[i] = (right[i] as number) - (i === n - 1 ? 0 : (upper[i] as number) * (tempsC[i + 1] as number));
    }
    const inward = top * (equivalentC - (tempsC[0] as number));
    const surfaceC = (tempsC[0] as number) + inward * this.topHalfM2KPerW;
    let fromEdge = 0;
    for (let i = 0; i < n; i++) fromEdge += (edgeWPerM2K[i] as number) * (room.outdoorC - (tempsC[i] as number));
    return {
      surfaceC,
      fromAirWPerM2: room.convectionWPerM2K * (room.airC - surfaceC),
      fromWallsWPerM2: room.radiationWPerM2K * (room.radiantC - surfaceC),
      fromBelowWPerM2: (downWPerM2K[n - 1] as number) * (belowC - (tempsC[n - 1] as number)),
      fromEdgeWPerM2: fromEdge,
    };
  }
}
