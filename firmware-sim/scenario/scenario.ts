// A scenario: a building in its weather, the site as people told the server of it, what they wrote, and the calls that must come.
import type { EntryBody } from "#contract/journal.ts";
import type { SheetBody } from "#contract/sheet.ts";
import type { SiteBody, ZoneBody } from "#contract/zone.ts";
import type { BuildingSpec } from "../building/spec.ts";
import type { Weather } from "../building/weather.ts";
import type { SimNode } from "../node/spec.ts";

export interface ExpectedCall {
  readonly atMs: number;
  readonly zone: string;
  readonly call: "pour" | "wait" | "abrade" | "finished";
  /** Any one of these may limit; null = nothing does. */
  readonly limiting: readonly (string | null)[];
}

export interface Scenario {
  readonly id: string;
  readonly title: string;
  readonly seed: number;
  /** The moment that the scenario is laid around. */
  readonly openedAtMs: number;
  /** Nodes are on the floor from here on. */
  readonly fromMs: number;
  readonly site: SiteBody;
  readonly sheets: readonly SheetBody[];
  readonly zones: readonly ZoneBody[];
  readonly nodes: readonly SimNode[];
  readonly building: BuildingSpec;
  readonly weather: Weather;
  /** The building stands in its weather this long before the nodes come. */
  readonly settleMs: number;
  readonly journal: readonly EntryBody[];
  readonly expect: readonly ExpectedCall[];
}
