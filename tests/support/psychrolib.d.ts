// The few functions used of psychrolib (MIT), the second opinion on moist air. Below 0 °C it counts over ice.
declare module "psychrolib" {
  interface Psychrolib {
    readonly SI: number;
    SetUnitSystem(system: number): void;
    GetSatVapPres(tempC: number): number;
    GetTDewPointFromVapPres(airC: number, vapourPa: number): number;
    GetHumRatioFromRelHum(airC: number, rhShare: number, pressurePa: number): number;
    GetTWetBulbFromHumRatio(airC: number, waterKgPerKg: number, pressurePa: number): number;
    GetStandardAtmPressure(altitudeM: number): number;
  }
  const psychrolib: Psychrolib;
  export default psychrolib;
}
