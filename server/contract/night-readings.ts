// Readings as they stand in a night file: SenML records with our own label for the time of hearing.
import { QUANTITY_UNITS, quantityKind } from "#contract/reading.ts";
import type { SenmlRecord } from "#contract/senml-schema.ts";
import type { LogSeries } from "#core/zone/site.ts";

export type HeardRecord = SenmlRecord & { heardS?: number };

/** Readings of a series as records of a pack, each with when it was heard where that was not at once. */
export function packOf(series: LogSeries): HeardRecord[] {
  const kind = quantityKind(series.quantity);
  if (kind === null) return [];
  const unit = QUANTITY_UNITS[kind][0];
  const firstMs = series.atMs.at(0);
  return series.atMs.slice().map((atMs, index) => {
    const value = series.values.at(index) as number;
    const heardMs = series.heardMs.at(index) as number;
    // The base unit holds on over the pack: it is set again where a series has none.
    const base =
      index > 0 ? {} : { bn: `${series.node}/${series.quantity}`, bt: (firstMs as number) / 1000, bu: unit ?? "" };
    const said = kind === "door" ? { vb: value === 1 } : { v: value };
    const t = (atMs - (firstMs as number)) / 1000;
    return {
      ...base,
      ...(t === 0 ? {} : { t }),
      ...said,
      ...(heardMs === atMs ? {} : { heardS: (heardMs - atMs) / 1000 }),
    };
  });
}
