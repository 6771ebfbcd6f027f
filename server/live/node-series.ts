// All series of one node. A pack brings several quantities of one time, so their series have the columns of times in common:
// of a quantity in memory its values are left, 8 bytes a reading instead of 24.
import { cutSeries, type LiveSeries, placeOf, putAt } from "./live-series.ts";

/** A time that stands in common columns, while not every series that has these has its value. */
interface Open {
  readonly times: number[];
  readonly place: number;
  readonly atMs: number;
  readonly heardMs: number;
}

const isSame = (one: readonly number[], other: readonly number[]): boolean =>
  one.length === other.length && one.every((value, index) => value === other[index]);

export class NodeSeries {
  readonly all: LiveSeries[] = [];
  private readonly opens: Open[] = [];

  find(quantity: string): LiveSeries | null {
    return this.all.find((one) => one.quantity === quantity) ?? null;
  }

  /** Takes a series whole. Gives the one of the same quantity that it replaces. */
  put(series: LiveSeries): LiveSeries | null {
    const at = this.all.findIndex(({ quantity }) => quantity === series.quantity);
    const before = this.all[at] ?? null;
    if (before === null) this.all.push(series);
    else this.all[at] = series;
    this.join(series);
    return before;
  }

  /** Takes a reading of a series of this node. `settle` must be called before anybody looks at one. */
  insert(series: LiveSeries, atMs: number, value: number, heardMs: number): void {
    const lacking = this.opens.find(({ times }) => times === series.atMs && series.values.length < times.length);
    if (lacking !== undefined) {
      if (lacking.atMs === atMs && lacking.heardMs === heardMs) return putAt(series.values, lacking.place, value);
      this.part(lacking);
    }
    const place = placeOf(series, atMs);
    if (place === null) return;
    if (series.values.length === 0) this.beginWith(series, atMs, heardMs);
    // The first of a pack brings the time for all that have it in common.
    if (series.values.length === series.atMs.length) {
      if (this.all.some((other) => other !== series && other.atMs === series.atMs))
        this.open(series, place, atMs, heardMs);
      putAt(series.atMs, place, atMs);
      putAt(series.heardMs, place, heardMs);
    }
    putAt(series.values, place, value);
  }

  /** What was not brought to a common time goes on with columns of its own. */
  settle(): void {
    for (let open = this.opens.at(-1); open !== undefined; open = this.opens.at(-1)) this.part(open);
  }

  /** Lets go of what is long past, as `cutSeries` says. */
  cut(fromMs: number, heardByMs: number, speaks: (atMs: number) => boolean): void {
    for (const times of new Set(this.all.map(({ atMs }) => atMs))) {
      const [first, ...others] = this.all.filter(({ atMs }) => atMs === times);
      if (first !== undefined) cutSeries(first, fromMs, heardByMs, speaks, others);
    }
    // Those that went apart for a reading that is gone by now have their times in common again.
    for (const series of this.all) this.join(series);
  }

  private join(series: LiveSeries): void {
    const same = this.all.find(
      ({ atMs, heardMs }) => atMs !== series.atMs && isSame(atMs, series.atMs) && isSame(heardMs, series.heardMs),
    );
    if (same === undefined || series.atMs.length === 0) return;
    series.atMs = same.atMs;
    series.heardMs = same.heardMs;
  }

  /** A quantity that was never heard has its times in common with one that was not heard before either. */
  private beginWith(series: LiveSeries, atMs: number, heardMs: number): void {
    const same = this.all.find(
      (other) => other.atMs.length === 1 && other.atMs[0] === atMs && other.heardMs[0] === heardMs,
    );
    if (same === undefined) return;
    series.atMs = same.atMs;
    series.heardMs = same.heardMs;
  }

  private open({ atMs: times }: LiveSeries, place: number, atMs: number, heardMs: number): void {
    const before = this.opens.find((open) => open.times === times);
    if (before !== undefined) this.part(before);
    this.opens.push({ times, place, atMs, heardMs });
  }

  private part(open: Open): void {
    this.opens.splice(this.opens.indexOf(open), 1);
    const { times, place } = open;
    const lacking = this.all.filter(({ atMs, values }) => atMs === times && values.length < times.length);
    const [first] = lacking;
    if (first === undefined) return;
    const [atMs, heardMs] = [times.toSpliced(place, 1), first.heardMs.toSpliced(place, 1)];
    for (const series of lacking) {
      series.atMs = atMs;
      series.heardMs = heardMs;
    }
  }
}
