// The journal of a site by zone: it only grows, and that of a thousand zones is not read whole for each of them.
import type { JournalEntry } from "#core/zone/journal.ts";

interface Placed {
  readonly place: number;
  readonly entry: JournalEntry;
}

export class JournalByZone {
  private read = 0;
  private wasSplit = false;
  /** Of the whole site, and what takes another entry back, whichever that is. */
  private readonly shared: Placed[] = [];
  private readonly own = new Map<string, Placed[]>();

  constructor(private readonly journal: readonly JournalEntry[]) {}

  private readOn(): void {
    for (; this.read < this.journal.length; this.read++) {
      const placed = { place: this.read, entry: this.journal[this.read] as JournalEntry };
      const { zone, did, undoes } = placed.entry;
      if (did === "split") this.wasSplit = true;
      if (zone === null || undoes !== undefined) this.shared.push(placed);
      else {
        const own = this.own.get(zone) ?? [];
        own.push(placed);
        this.own.set(zone, own);
      }
    }
  }

  /** True if a zone was ever split, also if that was taken back since. */
  get hasSplits(): boolean {
    this.readOn();
    return this.wasSplit;
  }

  /** Entries that can say something of a zone where none was ever split, in the order of the journal. */
  of(zone: string): JournalEntry[] {
    this.readOn();
    return [...this.shared, ...(this.own.get(zone) ?? [])].sort((a, b) => a.place - b.place).map(({ entry }) => entry);
  }
}
