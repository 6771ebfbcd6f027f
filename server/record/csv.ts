// Comma-separated values after RFC 4180: lines end with CRLF, and what holds a comma, a quote or a line break is quoted.
import type { CoatRecordBody } from "#contract/record.ts";
import { isoFromMs } from "#contract/primitives.ts";

export type Cell = string | number | boolean | null;

/** A text that a spreadsheet would take for a formula is set off by an apostrophe, but for plain numbers. */
function field(value: Cell): string {
  if (value === null) return "";
  if (typeof value !== "string") return String(value);
  const harmless = /^[=+\-@\t\r]/.test(value) && !/^[+-]?[\d.]+$/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(harmless) ? `"${harmless.replaceAll('"', '""')}"` : harmless;
}

export function csvLine(cells: readonly Cell[]): string {
  return `${cells.map(field).join(",")}\r\n`;
}

/** Conditions of a record, a row a moment. Empty where nothing was known. */
export function conditionsCsv({ conditions: of }: CoatRecordBody): string {
  const head = csvLine(["at", "slab_cold_c", "slab_hot_c", "air_c", "rh_pct", "dew_point_c", "margin_k"]);
  const rows = of.atMs.map((atMs, index) =>
    csvLine([
      isoFromMs(atMs),
      of.slabColdC[index] ?? null,
      of.slabHotC[index] ?? null,
      of.airC[index] ?? null,
      of.rhPct[index] ?? null,
      of.dewPointC[index] ?? null,
      of.marginK[index] ?? null,
    ]),
  );
  return head + rows.join("");
}

/** Calls of a record, a row a call; its reasons in one cell. */
export function callsCsv({ calls }: CoatRecordBody): string {
  const head = csvLine(["at", "until", "call", "limiting", "steps", "pouring", "reasons", "rule_version", "hash"]);
  const rows = calls.map((call) =>
    csvLine([
      call.at,
      call.until,
      call.call,
      call.limiting,
      call.steps.join(" "),
      call.pouring,
      call.reasons
        .map(({ rule, outcome, measured, limit, unit, probe }) =>
          [rule, outcome, measured, limit === null ? null : `/ ${limit}`, unit, probe]
            .filter((part) => part !== null)
            .join(" "),
        )
        .join("; "),
      call.ruleVersion,
      call.hash,
    ]),
  );
  return head + rows.join("");
}
