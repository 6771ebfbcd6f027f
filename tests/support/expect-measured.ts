// What a test asks of a measured table: no row lost, every value within its tolerance, misses from memory only warn.
import { expect } from "vitest";
import { type Measured, memoryWarnings, misses, rowsByKind, rowsLeftOver, summaries } from "./checks.ts";

export interface Wanted {
  readonly rowsRead: number;
  readonly checkedByKind: Readonly<Record<string, number>>;
  /** Rows of each kind that is not computed; the reasons stand beside the measure. */
  readonly notApplicable: Readonly<Record<string, number>>;
}

export function expectMeasured(measured: Measured, wanted: Wanted): void {
  for (const warning of memoryWarnings(measured)) console.warn(`value from memory: ${warning}`);
  expect(measured.rowsRead).toBe(wanted.rowsRead);
  expect(rowsByKind(measured)).toEqual(wanted.checkedByKind);
  const named = Object.entries(measured.notApplicable).map(([kind, { rows }]) => [kind, rows]);
  expect(Object.fromEntries(named)).toEqual(wanted.notApplicable);
  for (const { reason } of Object.values(measured.notApplicable)) expect(reason.length).toBeGreaterThan(20);
  expect(rowsLeftOver(measured)).toBe(0);
  expect(misses(measured)).toEqual([]);
  expect(summaries(measured).filter((summary) => !summary.within)).toEqual([]);
}
