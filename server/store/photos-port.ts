// What a store of pictures does: kept once under their hash, never changed.

export interface KeptPhoto {
  readonly id: string;
  readonly sentSha256: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bytes: number;
  readonly heardMs: number;
  readonly by: string | null;
}

export interface NewPhoto extends Omit<KeptPhoto, "bytes"> {
  readonly jpeg: Uint8Array;
  readonly thumb: Uint8Array;
}

export interface PhotoStore {
  /** The same picture again is the one that is there; the first stands. */
  add(site: string, photo: NewPhoto): KeptPhoto;
  /** Oldest first. */
  list(site: string): KeptPhoto[];
  count(site: string): number;
  /** Null if the site has no such picture. */
  picture(site: string, id: string, size: "full" | "thumb"): Uint8Array | null;
}
