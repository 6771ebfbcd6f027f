// All series of one node. A pack brings several quantities of one time, so their series have the columns of times in common:
// of a quantity in memory its values are left. All of it lies on one shelf.
import { type LiveColumn, Shelf } from "./columns.ts";
import { cutSeries, emptySeries, type LiveSeries, placeOf } from "./live-series.ts";

/** A time that stands in common columns, while not every series that has these has its value. */
interface Open {
  readonly times: LiveColumn;
  readonly place: number;
  readonly atMs: number;
  readonly heardMs: number;
}

function isSame(one: LiveColumn, other: LiveColumn): boolean {
  if (one.length !== other.length) return false;
  for (let place = 0; place < one.length; place++) if (one.at(place) !== other.at(place)) return false;
  return true;
}

export class NodeSeries {
  readonly all: LiveSeries[] = [];
  private readonly opens: Open[] = [];
  private readonly shelf = new Shelf();

  find(quantity: string): LiveSeries | null {
    return this.all.find((one) => one.quantity === quantity) ?? null;
  }

  /** A series of this node that has nothing to say yet, to be put and inserted into. */
  empty(node: string, quantity: string): LiveSeries {
    return emptySeries(node, quantity, this.shelf);
  }

  /** Takes a series whole. Gives the one of the same quantity that it replaces. */
  put(series: LiveSeries): LiveSeries | null {
    const at = this.all.findIndex(({ quantity }) => quantity === series.quantity);
    const before = this.all[at] ?? null;
    if (before === null) this.all.push(series);
    else this.all[at] = series;
    this.join(series);
    this.tidy();
    return before;
  }

  /** Takes a reading of a series of this node. `settle` must be called before anybody looks at one. */
  insert(series: LiveSeries, atMs: number, value: number, heardMs: number): void {
    const lacking = this.opens.find(({ times }) => times === series.atMs && series.values.length < times.length);
    if (lacking !== undefined) {
      if (lacking.atMs === atMs && lacking.heardMs === heardMs) return series.values.insert(lacking.place, value);
      this.part(lacking);
    }
    const place = placeOf(series, atMs);
    if (place === null) return;
    if (series.values.length === 0) this.beginWith(series, atMs, heardMs);
    // The first of a pack brings the time for all that have it in common.
    if (series.values.length === series.atMs.length) {
      if (this.all.some((other) => other !== series && other.atMs === series.atMs))
        this.open(series, place, atMs, heardMs);
      series.atMs.insert(place, atMs);
      series.heardMs.insert(place, heardMs);
    }
    series.values.insert(place, value);
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
    this.tidy();
  }

  private tidy(): void {
    this.shelf.keepOnly(new Set(this.all.flatMap(({ atMs, heardMs, values }) => [atMs, heardMs, values])));
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
      (other) => other.atMs.length === 1 && other.atMs.at(0) === atMs && other.heardMs.at(0) === heardMs,
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
    const [atMs, heardMs] = [this.shelf.times(), this.shelf.times()];
    atMs.fill(times.slice().toSpliced(place, 1));
    heardMs.fill(first.heardMs.slice().toSpliced(place, 1));
    for (const series of lacking) {
      series.atMs = atMs;
      series.heardMs = heardMs;
    }
  }
}
