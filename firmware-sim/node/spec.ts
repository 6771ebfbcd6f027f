// A simulated node: where its probes lie, how good they are, and what goes wrong with them.
import type { NodeBody } from "#contract/zone.ts";

/** How vapour got into a humidity sensor, and how it gets out. */
export interface VapourDose {
  /** Loss at 90 %RH after long, %RH. */
  readonly mostPct: number;
  /** It soaks in with this time constant while there is vapour, and leaves with that one. */
  readonly growH: number;
  readonly vapourUntilMs: number;
  readonly recoverH: number;
}

/** What breaks on a probe or a node, from a moment on. */
export type NodeFault =
  /** The node falls silent: flat battery, pulled plug. */
  | { readonly kind: "silent"; readonly fromMs: number; readonly toMs: number }
  /** It works but has no network: readings wait in its buffer. */
  | { readonly kind: "no-network"; readonly fromMs: number; readonly toMs: number }
  /** The supply sinks too low: the node is dead until it recovers, and starts anew without knowing the time. */
  | { readonly kind: "brown-out"; readonly fromMs: number; readonly toMs: number }
  /** An old cell: it tells less in the cold, and below some degrees of frost gives too little to run on. */
  | { readonly kind: "weak-battery"; readonly fromMs: number; readonly toMs: number }
  /** The network carries messages, but nobody on it tells the time. */
  | { readonly kind: "no-time"; readonly fromMs: number; readonly toMs: number }
  /** A slab probe has come off the slab and feels the air. */
  | { readonly kind: "loose"; readonly quantity: string; readonly fromMs: number; readonly toMs: number }
  /** The humidity sensor is wet through and says 100. */
  | { readonly kind: "saturated"; readonly fromMs: number; readonly toMs: number }
  /** A slab probe answers with its power-up code. */
  | { readonly kind: "power-up-code"; readonly quantity: string; readonly fromMs: number; readonly toMs: number }
  /** A value stops: every round repeats the last one before the fault. */
  | { readonly kind: "frozen"; readonly quantity: string; readonly fromMs: number; readonly toMs: number }
  /** Solvent vapour poisons the humidity sensor: it reads low, the more so the damper it is. Without a dose it drifts on for two days. */
  | { readonly kind: "poisoned"; readonly dose?: VapourDose; readonly fromMs: number; readonly toMs: number }
  /** Sun or its own heat warms the chip: temperature too high, humidity low with it, dew point right. */
  | { readonly kind: "sun-struck"; readonly fromMs: number; readonly toMs: number }
  /** Somebody switched the node's unit: its temperatures go out in °F under the name of °C. */
  | { readonly kind: "fahrenheit"; readonly fromMs: number; readonly toMs: number }
  /** Its clock was set wrong: stamps are off by `offMs`, and from a leap on by another amount. Above zero = ahead. */
  | {
      readonly kind: "wrong-clock";
      readonly offMs: number;
      readonly leap: { readonly atMs: number; readonly offMs: number } | null;
      readonly fromMs: number;
      readonly toMs: number;
    }
  /** A slab probe walks away from the truth at a steady pace, up to `mostK`. Above zero = it reads too warm. */
  | {
      readonly kind: "drifting";
      readonly quantity: string;
      readonly kPerH: number;
      readonly mostK: number;
      readonly fromMs: number;
      readonly toMs: number;
    };

export interface SimNode {
  /** As the server is told of it. */
  readonly body: NodeBody;
  /** First sample of a round falls this long after the round begins. */
  readonly phaseS: number;
  /** Patch of the zone's floor under each slab probe; empty outdoors. */
  readonly slabs: Readonly<Record<string, string>>;
  /** Opening whose contact it reads. */
  readonly door: string | null;
  /** Oscillator error, parts per million; a node keeps time by it between two looks at the network's clock. */
  readonly drift: number;
  readonly faults: readonly NodeFault[];
}

/** Hours for which a fault of a kind has lasted at a moment; null when there is none. */
export function faultH(node: SimNode, kind: NodeFault["kind"], atMs: number): number | null {
  const fault = node.faults.find((each) => each.kind === kind && atMs >= each.fromMs && atMs < each.toMs);
  return fault === undefined ? null : (atMs - fault.fromMs) / 3_600_000;
}

export function faultAt<K extends NodeFault["kind"]>(node: SimNode, kind: K, atMs: number, quantity?: string): boolean {
  return node.faults.some(
    (fault) =>
      fault.kind === kind &&
      atMs >= fault.fromMs &&
      atMs < fault.toMs &&
      (quantity === undefined || !("quantity" in fault) || fault.quantity === quantity),
  );
}

/** How far a stamp of the node is off at a moment, ms; above zero = ahead. */
export function clockOffMs(node: SimNode, atMs: number): number {
  for (const fault of node.faults)
    if (fault.kind === "wrong-clock" && atMs >= fault.fromMs && atMs < fault.toMs)
      return fault.leap !== null && atMs >= fault.leap.atMs ? fault.leap.offMs : fault.offMs;
  return 0;
}

/** How far a slab probe has drifted at a moment, K. */
export function driftedK(node: SimNode, quantity: string, atMs: number): number {
  let sumK = 0;
  for (const fault of node.faults)
    if (fault.kind === "drifting" && fault.quantity === quantity && atMs >= fault.fromMs && atMs < fault.toMs)
      sumK +=
        Math.sign(fault.kPerH) * Math.min(fault.mostK, Math.abs(fault.kPerH) * ((atMs - fault.fromMs) / 3_600_000));
  return sumK;
}
