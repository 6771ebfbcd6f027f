// How much each measurement does: the full bench, a quick one, and one so small that it only shows that it works.
export interface Sizes {
  readonly name: "full" | "quick" | "tiny";
  /** Packs that a node has buffered, and how many buffers each of ten lines brings one after the other; the first warms up. */
  readonly packsPerNode: number;
  readonly waves: number;
  /** Processes that the publishers are spread over, so that they are not what is measured. */
  readonly publisherProcesses: number;
  /** Ingest is measured this often, each time with all its peers in turn. */
  readonly rounds: number;
  /** In so many of the rounds, from the first on, the flow-based runtime is measured beside; it is fetched for that. */
  readonly flowRounds: number;
  /** The judge is timed in so many rounds, at most four, spread over the run. */
  readonly judgeRounds: number;
  readonly judgePasses: number;
  readonly longLogRuns: number;
  /** Readings in the filled store, over five zones of four quantities. */
  readonly rows: number;
  /** Readings in the plain table beside it. */
  readonly plainRows: number;
  readonly queries: number;
  readonly latencyPacks: number;
  readonly starts: number;
  /** Zones of the crowded server, and packs sent to one of them while all are judged in turn. */
  readonly crowdZones: number;
  readonly crowdPacks: number;
  /** Zones of five nodes each, of which an hour is played, and a day of one site: minutes, and the past before them. */
  readonly enduredZones: number;
  readonly soakMinutes: number;
  /** Minutes between two packs of a node in that day: each step costs judgings. */
  readonly soakStepMinutes: number;
  readonly soakHistoryH?: number;
  /** Each of the two is broken off after so long, and says how much it has played. */
  readonly endureWithinMs: number;
  /** Sites that the curve of capacity is made with, whose load it begins with, and how long each step is watched at least. */
  readonly capacitySites: number;
  readonly siteBegin: number;
  readonly watchMs: number;
  /** No step is begun later than this after the first. */
  readonly capacityWithinMs: number;
  /** Zones and packs of the page in a browser, packs a second, and zones of the large board. */
  readonly pageZones: number;
  readonly pagePacks: number;
  readonly pagePacksPerS: number;
  readonly boardZones: number;
  /** Browsers that see the large board for the first time. */
  readonly boardVisits: number;
  /** Visits of a slow phone. */
  readonly phoneRounds: number;
}

export const FULL: Sizes = {
  name: "full",
  // What a node has buffered after a day without network.
  packsPerNode: 1500,
  waves: 5,
  publisherProcesses: 2,
  rounds: 3,
  flowRounds: 3,
  judgeRounds: 3,
  judgePasses: 2,
  longLogRuns: 40,
  rows: 10_512_000,
  plainRows: 400_000,
  queries: 20,
  latencyPacks: 400,
  starts: 3,
  crowdZones: 200,
  crowdPacks: 20,
  enduredZones: 1000,
  soakMinutes: 1440,
  soakStepMinutes: 4,
  endureWithinMs: 110_000,
  capacitySites: 16,
  siteBegin: 384,
  watchMs: 12_000,
  capacityWithinMs: 60_000,
  pageZones: 200,
  pagePacks: 7000,
  pagePacksPerS: 500,
  boardZones: 1000,
  boardVisits: 3,
  phoneRounds: 3,
};

export const QUICK: Sizes = {
  name: "quick",
  packsPerNode: 480,
  waves: 2,
  publisherProcesses: 2,
  rounds: 1,
  flowRounds: 1,
  judgeRounds: 2,
  judgePasses: 2,
  longLogRuns: 30,
  rows: 1_000_000,
  plainRows: 200_000,
  queries: 20,
  latencyPacks: 250,
  starts: 2,
  crowdZones: 200,
  crowdPacks: 20,
  enduredZones: 200,
  soakMinutes: 240,
  soakStepMinutes: 3,
  endureWithinMs: 20_000,
  capacitySites: 2,
  siteBegin: 12,
  watchMs: 5000,
  capacityWithinMs: 30_000,
  pageZones: 50,
  pagePacks: 600,
  pagePacksPerS: 120,
  boardZones: 200,
  boardVisits: 1,
  phoneRounds: 2,
};

export const TINY: Sizes = {
  name: "tiny",
  packsPerNode: 180,
  waves: 2,
  publisherProcesses: 1,
  rounds: 2,
  flowRounds: 0,
  judgeRounds: 1,
  judgePasses: 1,
  longLogRuns: 2,
  rows: 8000,
  plainRows: 2000,
  queries: 3,
  latencyPacks: 40,
  starts: 1,
  crowdZones: 20,
  crowdPacks: 5,
  enduredZones: 2,
  soakMinutes: 2,
  soakStepMinutes: 1,
  soakHistoryH: 0,
  endureWithinMs: 5000,
  capacitySites: 1,
  siteBegin: 12,
  watchMs: 1000,
  capacityWithinMs: 10_000,
  pageZones: 3,
  pagePacks: 10,
  pagePacksPerS: 10,
  boardZones: 4,
  boardVisits: 1,
  phoneRounds: 1,
};
