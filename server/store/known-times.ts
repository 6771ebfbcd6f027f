// Which times of a series are known to be free: a reading of one is new, and the engine need not be asked whether it is.

/** Lines of a broker deal out the packs of a node among them, so that they come in a little disorder: so many are kept. */
const MOST_KEPT = 256;
/** What comes later than this after the one before is not of the same flood, ms. */
const REST_MS = 2000;

/** There is one for each series of the house, and mostly nothing happens to it: so it is small. */
export class KnownTimes {
  private heardMs = Number.NEGATIVE_INFINITY;
  /** Of what stands up to here nothing is known, epoch ms. */
  private floorMs: number;
  /** All times that stand after that, ascending; null where the newest is the only one, if it is later. */
  private kept: number[] | null = null;

  /** `newestMs`: the newest time that stands, epoch ms. */
  constructor(private newestMs: number) {
    this.floorMs = newestMs;
  }

  /**
   * True where no reading of this time, epoch ms, stands; it is taken by then. False where one stands, or where that is not
   * known. `heardMs` is when it was heard.
   */
  take(atMs: number, heardMs: number): boolean {
    if (heardMs - this.heardMs > REST_MS) {
      this.floorMs = this.newestMs;
      this.kept = null;
    }
    this.heardMs = heardMs;
    if (!(atMs > this.floorMs) || !this.put(atMs)) return false;
    if (atMs > this.newestMs) this.newestMs = atMs;
    return true;
  }

  private put(atMs: number): boolean {
    const { newestMs, floorMs, kept } = this;
    if (kept === null) {
      if (atMs === newestMs) return false;
      if (newestMs > floorMs) this.kept = atMs > newestMs ? [newestMs, atMs] : [atMs, newestMs];
      return true;
    }
    let place = kept.length;
    while (place > 0 && (kept[place - 1] as number) > atMs) place--;
    if (place > 0 && kept[place - 1] === atMs) return false;
    if (place === kept.length) kept.push(atMs);
    else kept.splice(place, 0, atMs);
    if (kept.length >= MOST_KEPT) {
      this.floorMs = kept[MOST_KEPT / 2 - 1] as number;
      this.kept = kept.slice(MOST_KEPT / 2);
    }
    return true;
  }
}
