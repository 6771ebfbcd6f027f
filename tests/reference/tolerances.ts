// One table of tolerances: what each quantity may be off, in the mean and at most. Used by the tests and by `npm run accuracy`.
// The numbers stand just above what is achieved; a change that needs them raised is a loss of accuracy and says so.

export interface Tolerance {
  readonly unit: string;
  readonly measure: "absolute" | "relative";
  readonly mean: number;
  readonly max: number;
}

const absolute = (unit: string, mean: number, max: number): Tolerance => ({ unit, measure: "absolute", mean, max });
const relative = (mean: number, max: number): Tolerance => ({ unit: "share", measure: "relative", mean, max });

export const TOLERANCES = {
  // Moist air.
  "dew point, 5 to 40 °C, 30 % and more": absolute("K", 0.008, 0.037),
  "dew point, -30 to 50 °C": absolute("K", 0.017, 0.088),
  "dew point, New York weather": absolute("K", 0.001, 0.005),
  "frost point": absolute("K", 0.007, 0.019),
  "wet bulb": absolute("K", 0.005, 0.042),
  "saturation over water": relative(0.0012, 0.0042),
  "saturation over ice": relative(0.0002, 0.0006),
  "vapour in air": relative(0.0011, 0.0041),
  "humidity ratio": relative(0.0011, 0.0047),
  "humidity ratio, published (real gas)": relative(0.0043, 0.0054),
  "humidity ratio from a given vapour pressure": relative(1e-7, 3e-7),
  "humidity from dew point, %": absolute("% RH", 1e-6, 1e-6),
  "chart-read example, K": absolute("K", 0.26, 0.49),
  "chart-read example, kg/kg": absolute("kg/kg", 8e-5, 8e-5),
  margin: absolute("K", 0.004, 0.013),
  "humidity at the surface": absolute("% RH", 0.01, 0.041),
  // The seven short forms, recomputed: what is printed has three or four decimals.
  "error of a short form, %": absolute("%", 3e-4, 5e-4),
  "error of a short form, K": absolute("K", 3e-5, 5e-5),
  // Another program for the same states.
  "second opinion: saturation": relative(0.0011, 0.0043),
  "second opinion: dew or frost point": absolute("K", 0.011, 0.082),
  "second opinion: humidity ratio": relative(0.0012, 0.0049),
  "second opinion: wet bulb": absolute("K", 0.008, 0.045),
  "second opinion: pressure": relative(1e-9, 1e-9),
  // Heat in a slab.
  "closed form": relative(2e-8, 5e-8),
  "textbook value, share of its own tolerance": absolute("1", 0.47, 0.85),
  "property of a material": relative(0, 0),
  "slab model, fine (2 s)": absolute("K", 0.0005, 0.002),
  "slab model, as used (60 s)": absolute("K", 0.005, 0.02),
  "slab model, heat flux, textbook": absolute("K", 0.011, 0.011),
  "slab model, daily swing, ratio": absolute("1", 0.0006, 0.0006),
  "slab model, daily swing, lag": absolute("h", 0.008, 0.014),
  "slab lag, share of the change": relative(0.03, 0.07),
  "slab under changing air": absolute("K", 0.25, 0.55),
  // Moisture of a room, cure, units.
  "heated hall, dew point": absolute("K", 0.1, 0.2),
  "heated hall, humidity": absolute("% RH", 0.4, 0.7),
  "age and maturity": relative(1e-9, 4e-9),
  "cure kinetics, integrated": relative(1e-10, 3e-10),
  "cure kinetics, hot rate": relative(2e-10, 5e-10),
  "unit conversion": relative(1e-9, 1e-9),
  "water and CO2 of burning": relative(1e-9, 1e-9),
  "moisture of a room": relative(1e-9, 1e-9),
  "latent heat, 0 to 40 °C": relative(2e-5, 5e-5),
  "latent heat at 100 °C": relative(0.0034, 0.0034),
} as const satisfies Record<string, Tolerance>;

export type Quantity = keyof typeof TOLERANCES;

/** What the tolerances must never exceed, whatever is achieved: mean and max (common practice where no source is named). */
export const LIMITS = {
  // A 3 K gate with sensors of +- 0.7 K: arithmetic may not add a tenth of that.
  "dew point, 5 to 40 °C, 30 % and more": { mean: 0.05, max: 0.05 },
  "dew point, -30 to 50 °C": { mean: 0.11, max: 0.11 },
  "dew point, New York weather": { mean: 0.012, max: 0.04 },
  "saturation over water": { mean: 0.005, max: 0.005 },
  "humidity ratio": { mean: 0.005, max: 0.005 },
  "humidity ratio, published (real gas)": { mean: 0.007, max: 0.007 },
  "closed form": { mean: 1e-6, max: 1e-6 },
  "slab model, fine (2 s)": { mean: 0.01, max: 0.01 },
  "slab lag, share of the change": { mean: 0.25, max: 0.25 },
  "age and maturity": { mean: 1e-6, max: 1e-6 },
} as const satisfies Partial<Record<Quantity, { readonly mean: number; readonly max: number }>>;
