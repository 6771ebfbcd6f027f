// What the office needs of a store: the last of each topic that it heard.
export interface HeardRow {
  readonly kind: "about" | "call" | "alarm";
  readonly site: string;
  /** The zone or the alarm; empty for what a site says of itself. */
  readonly key: string;
  readonly body: string;
  /** When it was first heard in this wording. */
  readonly heardMs: number;
}

export interface OfficeStore {
  all(): HeardRow[];
  /** All of it or nothing. */
  keep(rows: readonly HeardRow[], gone: readonly Omit<HeardRow, "body" | "heardMs">[]): void;
}
