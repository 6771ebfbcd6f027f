// The books of a building: every joule and gram that crosses its border, so that a test can close the balance.

/** Heat in joules, positive into the building. `latentJ` is heat that evaporation took (negative) or condensation gave. */
export interface HeatBooks {
  heaterJ: number;
  airBorderJ: number;
  shellJ: number;
  roofJ: number;
  sunFloorJ: number;
  belowJ: number;
  edgeJ: number;
  latentJ: number;
}

/** Water in kilograms, positive into the building. */
export interface WaterBooks {
  airBorderKg: number;
  sourceKg: number;
  fumesKg: number;
}

export interface Held {
  readonly heatJ: number;
  readonly waterKg: number;
}

export const emptyHeatBooks = (): HeatBooks => ({
  heaterJ: 0,
  airBorderJ: 0,
  shellJ: 0,
  roofJ: 0,
  sunFloorJ: 0,
  belowJ: 0,
  edgeJ: 0,
  latentJ: 0,
});
export const emptyWaterBooks = (): WaterBooks => ({ airBorderKg: 0, sourceKg: 0, fumesKg: 0 });

export function sumBooks(books: HeatBooks | WaterBooks): number {
  return Object.values(books).reduce((sum: number, entry: number) => sum + entry, 0);
}
