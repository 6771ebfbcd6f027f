// What the desk needs for pictures: where they are kept, and who makes them plain.
import type { Checked } from "#contract/faults.ts";

export interface KeptPhoto {
  readonly id: string;
  readonly sentSha256: string;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bytes: number;
  readonly heardMs: number;
  readonly by: string | null;
}

interface MadePhoto {
  readonly id: string;
  readonly sentSha256: string;
  readonly jpeg: Uint8Array;
  readonly thumb: Uint8Array;
  readonly widthPx: number;
  readonly heightPx: number;
}

/** Where pictures are kept, and who makes them plain. */
export interface PhotoParts {
  readonly make: (bytes: Uint8Array) => Promise<Checked<MadePhoto>>;
  readonly store: {
    add(site: string, photo: MadePhoto & { readonly heardMs: number; readonly by: string | null }): KeptPhoto;
    list(site: string): KeptPhoto[];
    count(site: string): number;
    picture(site: string, id: string, size: "full" | "thumb"): Uint8Array | null;
  };
}
