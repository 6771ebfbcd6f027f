// One check of a computed number against outside truth, and the summary by quantity that tests and `accuracy` share.
import { type Quantity, TOLERANCES } from "../reference/tolerances.ts";

export interface Check {
  /** Which row (and column) of the table. */
  readonly row: string;
  /** Kind of row, for the counts. */
  readonly kind: string;
  readonly quantity: Quantity;
  readonly got: number;
  readonly want: number;
  /** The row's own allowance, in the error measure of the quantity. */
  readonly allowed?: number;
  /** The value was written down from memory: a miss is a warning. */
  readonly fromMemory?: boolean;
}

/** What one table gave: every row is checked or belongs to a kind named as not applicable. */
export interface Measured {
  readonly table: string;
  readonly rowsRead: number;
  readonly checks: readonly Check[];
  /** Rows of kinds that are not computed here, with the reason. */
  readonly notApplicable: Readonly<Record<string, { readonly rows: number; readonly reason: string }>>;
}

/** Error in the measure of its quantity: absolute, or relative to the wanted value. */
export function errorOf(check: Check): number {
  const off = Math.abs(check.got - check.want);
  return TOLERANCES[check.quantity].measure === "relative" ? off / Math.abs(check.want) : off;
}

export interface Summary {
  readonly quantity: Quantity;
  readonly table: string;
  readonly checks: number;
  readonly mean: number;
  readonly max: number;
  readonly worst: string;
  readonly meanAllowed: number;
  readonly maxAllowed: number;
  readonly within: boolean;
}

/** By quantity: number of checks, mean and largest error, the worst row. Values from memory do not count. */
export function summaries(measured: Measured): Summary[] {
  const counted = measured.checks.filter((check) => check.fromMemory !== true);
  return [...new Set(counted.map((check) => check.quantity))].map((quantity) => {
    const checks = counted.filter((check) => check.quantity === quantity);
    const errors = checks.map(errorOf);
    const max = errors.reduce((most, error) => (error <= most ? most : error), 0);
    const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length;
    const { mean: meanAllowed, max: maxAllowed } = TOLERANCES[quantity];
    const worst = checks[errors.indexOf(max)]?.row ?? "";
    const within = mean <= meanAllowed && max <= maxAllowed;
    return {
      quantity,
      table: measured.table,
      checks: checks.length,
      mean,
      max,
      worst,
      meanAllowed,
      maxAllowed,
      within,
    };
  });
}

/** Checks beyond the row's own allowance (or the quantity's), apart from those from memory. NaN is beyond. */
export function misses(measured: Measured): string[] {
  return measured.checks.filter((check) => check.fromMemory !== true && beyond(check)).map(spoken);
}

/** The same for values from memory: they warn. */
export function memoryWarnings(measured: Measured): string[] {
  return measured.checks.filter((check) => check.fromMemory === true && beyond(check)).map(spoken);
}

function beyond(check: Check): boolean {
  return !(errorOf(check) <= (check.allowed ?? TOLERANCES[check.quantity].max));
}

function spoken(check: Check): string {
  return `${check.row}: ${check.quantity} got ${check.got}, want ${check.want}`;
}

/** Rows checked, by kind: a row with several columns counts once. */
export function rowsByKind(measured: Measured): Record<string, number> {
  const kinds: Record<string, number> = {};
  const seen = new Set<string>();
  for (const { kind, row } of measured.checks) {
    const id = row.split(" | ")[0] as string;
    if (!seen.has(id)) kinds[kind] = (kinds[kind] ?? 0) + 1;
    seen.add(id);
  }
  return kinds;
}

/** Every row read was checked or named as not applicable; returns how many are left over. */
export function rowsLeftOver(measured: Measured): number {
  const checked = Object.values(rowsByKind(measured)).reduce((sum, rows) => sum + rows, 0);
  const named = Object.values(measured.notApplicable).reduce((sum, kind) => sum + kind.rows, 0);
  return measured.rowsRead - checked - named;
}
