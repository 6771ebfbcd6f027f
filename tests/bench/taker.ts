/** Something that takes packs. `taken` resolves when it has done all it does with so many since its start. */
export interface Taker {
  readonly url: string;
  taken(packs: number): Promise<void>;
  /** Computing time of its processes so far, ms; a broker outside is not among them. */
  cpuMs(): Promise<number>;
  end(): Promise<void>;
}
