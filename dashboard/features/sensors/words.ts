// Sentences of the sensors page: readings, warnings and doubts with their numbers in the person's own units.
import type { NodeWarningBody, SensorBody } from "#contract/sensors.ts";
import type { DoubtKind } from "#core/zone/trust/doubt.ts";
import type { SensorsText } from "../../text/en-sensors.ts";
import { plain, showDuration, showPercent, showTemperature, type UnitSystem } from "../../units/show.ts";

const HOUR_MS = 3_600_000;

export function showReading(quantity: string, value: number, units: UnitSystem, words: SensorsText): string {
  if (quantity === "battery.v") return `${plain(value, 2)}\u00a0V`;
  const kind = quantity.split(".")[0];
  if (kind === "slab" || kind === "air" || kind === "dew") return showTemperature(value, units);
  if (kind === "door") return value === 1 ? words.door.open : words.door.shut;
  if (kind === "rh" || kind === "battery") return showPercent(value);
  return kind === "rssi" ? `${plain(value, 0)}\u00a0dBm` : plain(value);
}

/** `slab.2` as people say it: the slab, the second of them. */
export function measureWords(quantity: string, words: SensorsText): string {
  const [kind = quantity, which] = quantity.split(".");
  const name = (words.measures as Readonly<Record<string, string>>)[kind] ?? kind;
  return which === undefined ? name : `${name} ${which}`;
}

export function warningWords({ kind, value, unit, inDays }: NodeWarningBody, words: SensorsText): string {
  const said =
    unit === "h"
      ? showDuration(value * HOUR_MS)
      : unit === "%"
        ? showPercent(value)
        : `${plain(value, 0)}\u00a0${unit}`;
  return words.warnings[kind](said, inDays === null ? null : plain(inDays, 0));
}

export function doubtWords(kind: string, words: SensorsText): string {
  return words.doubts[kind as DoubtKind] ?? kind;
}

/** How far a node is trusted, worst first. */
export function stateOf({
  doubts,
  warnings,
  retiredAt,
  lastHeard,
}: SensorBody): "retired" | "doubted" | "ahead" | "trusted" {
  if (retiredAt !== null) return "retired";
  if (doubts.length > 0) return "doubted";
  // Nobody trusts what was never heard.
  return warnings.length > 0 || lastHeard === null ? "ahead" : "trusted";
}
