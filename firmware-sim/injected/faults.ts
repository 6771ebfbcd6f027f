// The faults that are injected: each with its span, its sizes, and the doubt by which it should be told.
import type { Doubt } from "#core/zone/trust/doubt.ts";
import type { NodeFault, SimNode } from "../node/spec.ts";
import type { Draw } from "../study/draw.ts";
import { FAULT_KINDS } from "../study/sample-nodes.ts";

const HOUR_MS = 3_600_000;
const MINUTE_MS = 60_000;
/** What vapour did to a chip lingers through all the moments that are judged. */
const LINGERS_MS = 72 * HOUR_MS;

export const INJECTED_KINDS = [
  ...FAULT_KINDS,
  "weak-battery",
  "fahrenheit",
  "wrong-clock",
  "drifting",
] as const satisfies readonly NodeFault["kind"][];
export type InjectedKind = (typeof INJECTED_KINDS)[number];

export interface Injected {
  readonly kind: InjectedKind;
  /** The kind with what matters of its draw: which value, which way. */
  readonly label: string;
  readonly node: string;
  readonly fault: NodeFault;
  /** The crew wrote down that it used solvent when it began. */
  readonly onRecord?: boolean;
}
type Labelled = Pick<Injected, "label" | "fault" | "onRecord">;

/** Doubts that are right for a kind. A node that falls silent is no doubt: it is missed. */
const RIGHT: Readonly<Record<InjectedKind, readonly string[]>> = {
  silent: [],
  "no-network": [],
  loose: ["detached", "conflict"],
  saturated: ["saturated"],
  "power-up-code": ["error-code"],
  frozen: ["frozen", "conflict", "own-dew-point"],
  poisoned: ["reads-low", "solvent"],
  "sun-struck": ["sun-struck"],
  "weak-battery": ["battery"],
  fahrenheit: ["unit"],
  "wrong-clock": ["clock"],
  drifting: ["conflict", "drift"],
};

/** The doubts of a kind, for whoever counts them where there is no fault. */
export const doubtsOf = (kind: InjectedKind): readonly string[] => RIGHT[kind];

/** True if a doubt names this fault on this probe; doubts of a chip, a clock or a battery name the node. */
export function isRight(
  doubt: Pick<Doubt, "probe"> & { readonly kind: string },
  { kind, node, fault }: Injected,
): boolean {
  if (!RIGHT[kind].includes(doubt.kind) || !doubt.probe.startsWith(`${node}/`)) return false;
  const slab = "quantity" in fault && fault.quantity.startsWith("slab");
  return !slab || doubt.probe === `${node}/${fault.quantity}`;
}

/** What a fault at work takes from its node: all that it says, its chip of air and humidity, or one slab probe. */
function takes({ kind, fault }: Injected): "node" | "chip" | string {
  switch (kind) {
    case "silent":
    case "no-network":
    case "weak-battery":
    case "fahrenheit":
    case "wrong-clock":
      return "node";
    case "saturated":
    case "poisoned":
    case "sun-struck":
      return "chip";
    case "loose":
    case "power-up-code":
    case "frozen":
    case "drifting": {
      const quantity = "quantity" in fault ? fault.quantity : "";
      return quantity.startsWith("slab") ? quantity : "chip";
    }
  }
}

/** True if a slab probe and a chip that no fault at work has touched are left to judge the floor by. */
export function anotherCanJudge(floor: readonly SimNode[], injected: readonly Injected[], atMs: number): boolean {
  const atWork = injected.filter(({ fault }) => atMs >= fault.fromMs && atMs < fault.toMs);
  const taken = (node: SimNode, what: string) =>
    atWork.some((each) => each.node === node.body.id && [what, "node"].includes(takes(each)));
  const slab = floor.some((node) => Object.keys(node.slabs).some((quantity) => !taken(node, quantity)));
  return slab && floor.some((node) => !taken(node, "chip"));
}

/** A stretch in which nothing could judge a floor is a gap in its past once it is longer than readings are held. */
const GAP_MS = 30 * MINUTE_MS;

/** True if the faults, in all that they have lasted by then, left nothing to judge the floor by for longer than a reading is held. */
export function wentUnwatched(floor: readonly SimNode[], injected: readonly Injected[], atMs: number): boolean {
  const times = injected.flatMap(({ fault }) => [fault.fromMs, fault.toMs]).filter((eachMs) => eachMs < atMs);
  const bounds = [...times.sort((a, b) => a - b), atMs];
  let gapMs = 0;
  for (const [index, fromMs] of bounds.slice(0, -1).entries()) {
    gapMs = anotherCanJudge(floor, injected, fromMs) ? 0 : gapMs + (bounds[index + 1] as number) - fromMs;
    if (gapMs > GAP_MS) return true;
  }
  return false;
}

/** Where and when: names of its own draws begin with `name`. */
export interface Wanted {
  readonly name: string;
  readonly node: SimNode;
  /** Another chip measures the air of the same floor. */
  readonly another: boolean;
  readonly fromMs: number;
  readonly toMs: number;
}

/** Start and end of an injected fault around the evening. */
export function spanOf(
  draw: Draw,
  name: string,
  fourteenMs: number,
): { readonly fromMs: number; readonly toMs: number } {
  const fromMs = fourteenMs + draw.between(`${name}/from`, -12, 16) * HOUR_MS;
  return { fromMs, toMs: fromMs + 2 * 16 ** draw.u(`${name}/long`) * HOUR_MS };
}

/** True if another slab probe of the node lies within a metre. */
function hasNeighbour(node: SimNode, quantity: string): boolean {
  const of = node.body.probes?.[quantity];
  return Object.keys(node.slabs).some((other) => {
    const place = node.body.probes?.[other];
    if (other === quantity || of?.xM === undefined || of.yM === undefined) return false;
    return place?.xM !== undefined && place.yM !== undefined && Math.hypot(of.xM - place.xM, of.yM - place.yM) <= 1;
  });
}

function wrongClock(draw: Draw, { name, fromMs, toMs }: Wanted): Labelled {
  const seconds = (key: string, lowMin: number, highMin: number) =>
    Math.round(lowMin * (highMin / lowMin) ** draw.u(`${name}/${key}`) * 60) * 1000;
  const way = draw.pick<"ahead" | "behind" | "leaps">(`${name}/way`, [
    [1, "ahead"],
    [1, "behind"],
    [1, "leaps"],
  ]);
  const offMs =
    seconds("off", 3, 12 * 60) * (way === "ahead" || (way === "leaps" && draw.chance(`${name}/up`, 0.5)) ? 1 : -1);
  const leap =
    way === "leaps"
      ? {
          atMs: fromMs + draw.between(`${name}/leap`, 0.2, 0.8) * (toMs - fromMs),
          offMs: seconds("leap-off", 3, 12 * 60) * (draw.chance(`${name}/leap-up`, 0.5) ? 1 : -1),
        }
      : null;
  return { label: `wrong-clock ${way}`, fault: { kind: "wrong-clock", offMs, leap, fromMs, toMs } };
}

function drifting(draw: Draw, wanted: Wanted, quantity: string): Labelled {
  const { name, node, fromMs, toMs } = wanted;
  const up = draw.chance(`${name}/up`, 0.5);
  const kPerH = draw.between(`${name}/pace`, 0.2, 1.5) * (up ? 1 : -1);
  const mostK = draw.between(`${name}/most`, 2, 6);
  const beside = hasNeighbour(node, quantity) ? "beside another" : "alone";
  return {
    label: `drifting ${up ? "up" : "down"} ${beside}`,
    fault: { kind: "drifting", quantity, kPerH, mostK, fromMs, toMs },
  };
}

function faultOf(draw: Draw, kind: InjectedKind, wanted: Wanted): Labelled {
  const { name, node, fromMs, toMs } = wanted;
  const slab = draw.pick(
    `${name}/probe`,
    Object.keys(node.slabs).map((quantity) => [1, quantity] as const),
  );
  switch (kind) {
    case "loose":
    case "power-up-code":
      return { label: kind, fault: { kind, quantity: slab, fromMs, toMs } };
    case "frozen": {
      const quantity = draw.pick(`${name}/frozen`, [
        [2, slab],
        [1, "air"],
        [1, "rh"],
      ]);
      const of = quantity.startsWith("slab") ? "slab" : quantity;
      return { label: `frozen ${of}`, fault: { kind, quantity, fromMs, toMs } };
    }
    case "wrong-clock":
      return wrongClock(draw, wanted);
    case "drifting":
      return drifting(draw, wanted, slab);
    case "poisoned":
      return poisoned(draw, wanted);
    case "silent":
    case "no-network":
    case "saturated":
    case "sun-struck":
    case "weak-battery":
    case "fahrenheit":
      return { label: kind, fault: { kind, fromMs, toMs } };
  }
}

/** A loss at 75 %RH of what the chip states is one that nobody can tell from a chip as sold. */
const AT_75 = (75 - 30) / 60;

/**
 * Vapour of solvents: from a loss that nobody notices to one that the trade has seen, in within hours and out within days.
 * Makers of such sensors warn of several %RH that go back slowly; sizes and times from memory, no source.
 */
function poisoned(draw: Draw, { name, node, another, fromMs, toMs }: Wanted): Labelled {
  const mostPct = 2 * 10 ** draw.u(`${name}/most`);
  const dose = {
    mostPct,
    growH: draw.between(`${name}/grow`, 0.5, 6),
    vapourUntilMs: toMs,
    recoverH: draw.between(`${name}/recover`, 12, 96),
  };
  const fault: NodeFault = { kind: "poisoned", dose, fromMs, toMs: fromMs + LINGERS_MS };
  if (mostPct * AT_75 <= node.body.accuracy.rhPct) return { label: "poisoned within its accuracy", fault };
  if (draw.chance(`${name}/on-record`, 0.35)) return { label: "poisoned beyond, on record", fault, onRecord: true };
  return { label: `poisoned beyond, ${another ? "beside another" : "alone"}`, fault };
}

/** One fault of a kind, its sizes drawn by name; stamps of clocks are off by whole seconds. */
export function injectedFault(draw: Draw, kind: InjectedKind, wanted: Wanted): Injected {
  const minute = (atMs: number) => Math.round(atMs / MINUTE_MS) * MINUTE_MS;
  const whole = { ...wanted, fromMs: minute(wanted.fromMs), toMs: minute(wanted.toMs) };
  return { kind, node: wanted.node.body.id, ...faultOf(draw, kind, whole) };
}
