// What is said around an alarm, in every language: what became of it, several at once, all well, a test, ends of letters.

export interface ZoneLine {
  readonly name: string;
  readonly call: "pour" | "wait" | "abrade" | "finished" | null;
  /** Margin now and the least of the night ahead, with units; null where nobody knows. */
  readonly margin: string | null;
  readonly lowest: string | null;
  readonly lowestAt: string | null;
}

export interface NotifyWords {
  readonly taken: (by: string | null) => string;
  readonly snoozed: (by: string | null, until: string | null) => string;
  readonly unanswered: (times: number) => string;
  /** Title of several alarms in one letter. */
  readonly several: (site: string, count: number) => string;
  readonly andMore: (count: number) => string;
  readonly allWell: (site: string) => string;
  readonly notAllWell: (site: string, open: number) => string;
  /** The server itself is not well. */
  readonly serverTroubled: string;
  readonly zone: (line: ZoneLine) => string;
  readonly noZones: string;
  readonly test: { readonly title: string; readonly body: (name: string) => string };
  readonly gone: { readonly title: string; readonly body: (device: string) => string };
  readonly openLink: string;
  readonly acknowledgeLink: string;
  readonly footer: string;
}
