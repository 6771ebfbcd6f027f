// What has been laid on a sampled floor, and when: a bare slab, the first coat, or the second, near its opening or closing.
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { FAST_EPOXY, ONE_LINE_EPOXY, POLYASPARTIC_TOP, SLOW_EPOXY, URETHANE_TOP } from "../scenario/sheets.ts";
import { SHED_ZONE } from "../scenario/shed.ts";
import type { Draw } from "./draw.ts";
import { hoursOf } from "../night/clocks.ts";

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;

export type Stage = "bare" | "first" | "second";
export interface SampledCoats {
  readonly stage: Stage;
  readonly system: readonly SheetBody[];
  readonly journal: readonly EntryBody[];
}

interface Floor {
  /** About the temperature that the slab has, °C. */
  readonly expectedC: number;
  readonly fourteenMs: number;
  readonly fromMs: number;
  readonly pourH: number;
}

/** Sheets that suit the slab are likelier, as a crew would choose; one in five is not asked. */
function sheetFor(draw: Draw, name: string, expectedC: number, sheets: readonly SheetBody[]): SheetBody {
  const fits = sheets.filter(({ limits }) => {
    const [minC, maxC] = limits.slabC;
    return (minC === null || expectedC >= minC + 1.5) && (maxC === null || expectedC <= maxC - 1);
  });
  const from = fits.length === 0 || draw.chance(`${name}-any`, 0.2) ? sheets : fits;
  return draw.pick(
    name,
    from.map((sheet) => [1, sheet] as const),
  );
}

const BODIES = [SLOW_EPOXY, FAST_EPOXY, ONE_LINE_EPOXY];
const TOPS = [URETHANE_TOP, POLYASPARTIC_TOP];

/** Hours before 14:00 at which the last coat was finished, so that something of its window falls into the day to come. */
function finishedBeforeH(draw: Draw, sheet: SheetBody, expectedC: number): number {
  const eventH = draw.between("event", 0, 22);
  const opens = hoursOf(sheet, "recoatFromH")(expectedC);
  const closes = hoursOf(sheet, "recoatUntilH")(expectedC);
  const ageH = draw.pick("phase", [
    [0.5, opens],
    [0.3, closes],
    [0.2, draw.between("age", 2, 40)],
  ]);
  return (Number.isFinite(ageH) ? ageH : 20) - eventH;
}

export function coatsOf(draw: Draw, floor: Floor): SampledCoats {
  const { expectedC, fourteenMs, fromMs, pourH } = floor;
  const wanted = draw.pick<Stage>("stage", [
    [0.34, "bare"],
    [0.4, "first"],
    [0.26, "second"],
  ]);
  const body = sheetFor(draw, "body", expectedC, BODIES);
  const second = sheetFor(draw, "body-2", expectedC, BODIES);
  const top = sheetFor(draw, "top", expectedC, TOPS);
  const system = wanted === "second" || draw.chance("three", 0.25) ? [body, second, top] : [body, top];
  const last = wanted === "second" ? second : body;
  // The last coat lies within the readings, else what it went through would be a gap.
  const endMs = Math.min(
    fourteenMs - draw.between("least-age", 0.3, 3) * HOUR_MS,
    Math.max(fromMs + (pourH + 1.2) * HOUR_MS, fourteenMs - finishedBeforeH(draw, last, expectedC) * HOUR_MS),
  );
  const stage = endMs - pourH * HOUR_MS < fromMs + HOUR_MS ? "bare" : wanted;
  const minute = (atMs: number) => Math.round(atMs / MINUTE_MS) * MINUTE_MS;
  const entry = (atMs: number, did: EntryBody["did"], rest: object = {}) =>
    ({ at: isoFromMs(minute(atMs)), zone: SHED_ZONE, did, ...rest }) as EntryBody;
  const pour = (coat: number, toMs: number) =>
    entry(toMs, "poured", { coat, from: isoFromMs(minute(toMs - pourH * HOUR_MS)), to: isoFromMs(minute(toMs)) });
  const ground = (atMs: number, cleaned: boolean) => [
    entry(atMs - 2 * HOUR_MS, "abraded", { how: "ground" }),
    ...(cleaned ? [entry(atMs, "cleaned")] : []),
  ];
  if (stage === "bare") {
    const readyMs = Math.max(fromMs, fourteenMs - draw.between("ready", 0.5, 8) * HOUR_MS);
    return { stage, system, journal: ground(readyMs, !draw.chance("dusty", 0.03)) };
  }
  const firstMs = stage === "first" ? endMs : endMs - draw.between("before", 14, 30) * HOUR_MS;
  // A morning look, where there is one, finds the surface clean.
  const lookMs = Math.max(endMs + 4 * HOUR_MS, fourteenMs - draw.between("look", 1, 7) * HOUR_MS);
  return {
    stage,
    system,
    journal: [
      ...ground(firstMs - (pourH + 1) * HOUR_MS, true),
      pour(0, firstMs),
      ...(stage === "second" ? [pour(1, endMs)] : []),
      ...(draw.chance("looked", 0.35) && lookMs < fourteenMs ? [entry(lookMs, "inspected", { surface: "clean" })] : []),
    ],
  };
}
