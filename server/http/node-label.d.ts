export interface NodeLabel {
  readonly site: string;
  readonly siteName: string;
  readonly node: string;
  /** The name that the device sends under. */
  readonly device: string;
  readonly zoneName: string | null;
  readonly probes: readonly {
    readonly quantity: string;
    readonly place: string | null;
  }[];
  readonly broker: string;
}
/** What the code holds. A secret only when the person asked for it: whoever can see the label can then sign in. */
export declare function codeOf({ broker, site, device }: NodeLabel, password: string | null): string;
/** `password` null = none in the code. */
export declare function labelSvg(label: NodeLabel, password: string | null): string;
