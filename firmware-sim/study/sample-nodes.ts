// The nodes of a sampled site: one or two on the floor, perhaps one outdoors, and what goes wrong with one of them.
import type { NodeFault, SimNode } from "../node/spec.ts";
import { shedNode, SHED_NODE } from "../scenario/shed.ts";
import type { Draw } from "./draw.ts";

const HOUR_MS = 3_600_000;
const EVERY_S = 300;

export const FAULT_KINDS = [
  "silent",
  "no-network",
  "loose",
  "saturated",
  "power-up-code",
  "frozen",
  "poisoned",
  "sun-struck",
] as const satisfies readonly NodeFault["kind"][];

const CLASSES = [
  { slabK: 0.3, airK: 0.3, rhPct: 2 },
  { slabK: 0.5, airK: 0.3, rhPct: 3 },
  { slabK: 0.2, airK: 0.2, rhPct: 1.5 },
  { slabK: 0.5, airK: 0.5, rhPct: 3 },
] as const;

function faultOf(draw: Draw, fourteenMs: number): NodeFault {
  const kind = draw.pick(
    "fault",
    FAULT_KINDS.map((each) => [1, each] as const),
  );
  const fromMs = fourteenMs + draw.between("fault-from", -24, 16) * HOUR_MS;
  const toMs = fromMs + 2 * 16 ** draw.u("fault-long") * HOUR_MS;
  const slab = draw.pick("fault-probe", [
    [1, "slab"],
    [1, "slab.2"],
  ] as const);
  switch (kind) {
    case "loose":
    case "power-up-code":
      return { kind, quantity: slab, fromMs, toMs };
    case "frozen":
      return {
        kind,
        quantity: draw.pick("frozen", [
          [2, slab],
          [1, "air"],
          [1, "rh"],
        ]),
        fromMs,
        toMs,
      };
    case "silent":
    case "no-network":
    case "saturated":
    case "poisoned":
    case "sun-struck":
      return { kind, fromMs, toMs };
  }
}

export function nodesOf(draw: Draw, fourteenMs: number, outdoorNode: boolean, faulty: boolean): readonly SimNode[] {
  const accuracy = draw.pick(
    "accuracy",
    CLASSES.map((each, index) => [index === 0 ? 2 : 1, each] as const),
  );
  const plain = shedNode(EVERY_S, faulty ? [faultOf(draw, fourteenMs)] : []);
  const first: SimNode = { ...plain, drift: draw.normal("drift", 10), body: { ...plain.body, accuracy } };
  const nodes: SimNode[] = [first];
  if (draw.chance("two-nodes", 0.3))
    nodes.push({
      ...first,
      faults: [],
      slabs: { slab: "middle" },
      body: {
        ...first.body,
        id: `${SHED_NODE}b`,
        probes: {
          slab: { place: "middle, far end", xM: 9, yM: 4 },
          air: { place: "post, 0.3 m up", xM: 9, yM: 0.5 },
        },
      },
    });
  if (outdoorNode)
    nodes.push({
      ...first,
      faults: [],
      slabs: {},
      body: { id: "out", zone: null, everyS: EVERY_S, accuracy, probes: { air: { place: "north wall" } } },
    });
  return nodes;
}
