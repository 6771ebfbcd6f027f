// Slips in a table of hours: exchanged columns, rows upside down, a zero too many, minutes or days typed as hours.
import type { SheetWarning } from "#core/cure/sheet-warning.ts";
import type { Milestone, Sheet } from "#core/cure/sheet.ts";

const MILESTONES: readonly Milestone[] = ["recoatFromH", "recoatUntilH", "dewSafeH", "footH", "trafficH"];

interface Cell {
  readonly field: string;
  readonly slabC: number;
  readonly hours: number;
}

/** One column of the table: its printed cells, coldest first. */
interface Column {
  readonly name: Milestone | "hardH";
  readonly table: "cure" | "hard";
  readonly cells: readonly Cell[];
}

function columnsOf(sheet: Sheet): Column[] {
  const column = (table: "cure" | "hard", name: Column["name"], hours: readonly (number | null)[]): Column => ({
    name,
    table,
    cells: hours
      .flatMap((value, index) => {
        const slabC = (table === "cure" ? sheet.cure : (sheet.hard ?? []))[index]?.slabC;
        return value === null || slabC === undefined
          ? []
          : [{ field: `${table}.${index}.${name}`, slabC, hours: value }];
      })
      .sort((a, b) => a.slabC - b.slabC),
  });
  const hard = column(
    "hard",
    "hardH",
    (sheet.hard ?? []).map(({ hardH }) => hardH),
  );
  if (sheet.kind === "filler") return [hard];
  return MILESTONES.map((name) =>
    column(
      "cure",
      name,
      sheet.cure.map((row) => row[name]),
    ),
  );
}

/** The hours that the neighbours of a cell lead to: log(hours) straight in temperature, as the judge reads the table. */
function between(before: Cell, after: Cell, slabC: number): number {
  const share = (slabC - before.slabC) / (after.slabC - before.slabC);
  return Math.exp(Math.log(before.hours) + share * (Math.log(after.hours) - Math.log(before.hours)));
}

/** A printed chart of a thick film slowed by 9 from 21 to 10 °C; a zero too many is more than this in 10 K. */
const MOST_PER_10_K = 12;

function zeroSlips({ cells }: Column): SheetWarning[] {
  return cells.flatMap((cell, index) => {
    const before = cells[index - 1];
    const after = cells[index + 1];
    const expected =
      before !== undefined && after !== undefined && after.slabC > before.slabC && before.hours > 0 && after.hours > 0
        ? between(before, after, cell.slabC)
        : null;
    if (expected === null) {
      // Only the two of a table of two can be held against each other: nobody knows which one slipped.
      if (cells.length !== 2 || before === undefined || !(cell.slabC > before.slabC)) return [];
      const steep = (before.hours / cell.hours) ** (10 / (cell.slabC - before.slabC));
      return steep > MOST_PER_10_K ? [{ field: before.field, kind: "slipped-zero", meant: before.hours / 10 }] : [];
    }
    const ratio = cell.hours / expected;
    if (ratio > 4.5 && ratio < 22) return [{ field: cell.field, kind: "slipped-zero", meant: cell.hours / 10 }];
    if (ratio < 1 / 4.5 && ratio > 1 / 22) return [{ field: cell.field, kind: "slipped-zero", meant: cell.hours * 10 }];
    return [];
  });
}

function orderSlips({ table, name, cells }: Column): SheetWarning[] {
  const found: SheetWarning[] = [];
  let rising = 0;
  let steps = 0;
  for (const [index, cell] of cells.entries()) {
    const colder = cells[index - 1];
    if (!(cell.hours > 0)) found.push({ field: cell.field, kind: "hours-not-positive" });
    if (colder === undefined || colder.slabC === cell.slabC) continue;
    steps++;
    if (cell.hours > colder.hours) {
      rising++;
      found.push({ field: cell.field, kind: "longer-when-hotter" });
    }
  }
  // Longer in every step: the temperatures stand in the other order.
  if (steps >= 2 && rising === steps) return [{ field: `${table}.0.${name}`, kind: "rows-upside-down" }];
  return found;
}

/** Longest hours that are printed for the first use of a warm floor; beyond, the column is in minutes. */
const MOST_HOURS_WARM: Readonly<Record<Column["name"], number>> = {
  recoatFromH: 72,
  dewSafeH: 72,
  footH: 96,
  hardH: 72,
  recoatUntilH: 24 * 60,
  trafficH: 24 * 30,
};
const WARM_C = 15;

function minuteSlips({ name, cells }: Column): SheetWarning[] {
  return cells.flatMap(({ field, slabC, hours }) => {
    const most = MOST_HOURS_WARM[name];
    const whole = hours % 5 === 0 && hours / 60 >= 0.25;
    return slabC >= WARM_C && hours > most && whole ? [{ field, kind: "minutes-as-hours", meant: hours / 60 }] : [];
  });
}

/** Minimum and maximum side by side: exchanged in every row, or in one. */
function pairSlips({ cure }: Sheet): SheetWarning[] {
  const pairs = cure.flatMap(({ recoatFromH, recoatUntilH }, index) =>
    recoatFromH === null || recoatUntilH === null ? [] : [{ index, from: recoatFromH, until: recoatUntilH }],
  );
  const turned = pairs.filter(({ from, until }) => until < from);
  if (turned.length === 0) return [];
  const days = turned.filter(({ from, until }) => until * 24 > from && until <= 60 && Number.isInteger(until));
  const all = turned.length === pairs.length && pairs.length > 1;
  if (all && days.length === turned.length && turned.every(({ until }) => until <= 14))
    return turned.map(({ index, until }) => ({
      field: `cure.${index}.recoatUntilH`,
      kind: "days-as-hours",
      meant: until * 24,
    }));
  if (all) return [{ field: "cure", kind: "columns-exchanged" }];
  return turned.map(({ index }) => ({ field: `cure.${index}.recoatUntilH`, kind: "max-below-min" }));
}

function rowSlips(sheet: Sheet): SheetWarning[] {
  const rows = sheet.kind === "filler" ? (sheet.hard ?? []) : sheet.cure;
  const table = sheet.kind === "filler" ? "hard" : "cure";
  return rows.flatMap(({ slabC }, index): SheetWarning[] => {
    const field = `${table}.${index}.slabC`;
    if (rows.findIndex((other) => other.slabC === slabC) !== index)
      return [{ field, kind: "two-rows-one-temperature" }];
    if (slabC > 45) return [{ field, kind: "fahrenheit-as-celsius", meant: (slabC - 32) / 1.8 }];
    return slabC < -5 ? [{ field, kind: "celsius-as-fahrenheit", meant: slabC * 1.8 + 32 }] : [];
  });
}

/** Every slip that a table of hours shows by itself. */
export function cureSlips(sheet: Sheet): SheetWarning[] {
  const early = sheet.cure.flatMap(({ footH, trafficH }, index): SheetWarning[] =>
    footH !== null && trafficH !== null && trafficH < footH
      ? [{ field: `cure.${index}.trafficH`, kind: "traffic-before-foot" }]
      : [],
  );
  return [
    ...rowSlips(sheet),
    ...(sheet.kind === "filler" ? [] : pairSlips(sheet)),
    ...columnsOf(sheet).flatMap((column) => [...orderSlips(column), ...zeroSlips(column), ...minuteSlips(column)]),
    ...early,
  ];
}
