// The journal of a site by zone: it only grows, and that of a thousand zones is not read whole for each of them.
import type { JournalEntry } from "#core/zone/journal.ts";

interface Placed {
  readonly place: number;
  readonly entry: JournalEntry;
}

/** In the order of the journal, each once. Lists that stand in order are merged quickly by a sort. */
function inOrder(placed: readonly Placed[]): JournalEntry[] {
  const sorted = [...placed].sort((a, b) => a.place - b.place);
  return sorted.filter(({ place }, at) => place !== sorted[at - 1]?.place).map(({ entry }) => entry);
}

export class JournalByZone {
  private read = 0;
  /** Of the whole site, and what takes another entry back, whichever that is. */
  private readonly shared: Placed[] = [];
  private readonly split: Placed[] = [];
  private readonly own = new Map<string, Placed[]>();

  constructor(private readonly journal: readonly JournalEntry[]) {}

  private readOn(): void {
    for (; this.read < this.journal.length; this.read++) {
      const placed = { place: this.read, entry: this.journal[this.read] as JournalEntry };
      const { zone, did, undoes } = placed.entry;
      if (did === "split") this.split.push(placed);
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
    return this.split.length > 0;
  }

  /** Every split, and what takes another entry back, in the order of the journal; none where none was ever split. */
  splits(): JournalEntry[] {
    return this.hasSplits ? inOrder([...this.shared, ...this.split]) : [];
  }

  /** Entries of these zones, of the whole site, and what takes another entry back, in the order of the journal. */
  of(zones: readonly string[]): JournalEntry[] {
    this.readOn();
    return inOrder([this.shared, ...zones.map((zone) => this.own.get(zone) ?? [])].flat());
  }
}
