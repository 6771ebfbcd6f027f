// The probes of nodes as the plan shows them: slab probes each for itself, a node outdoors as one. Pure.
import type { NodeStateBody } from "#contract/board.ts";
import type { NodeBody } from "#contract/zone.ts";
import type { PlanPoint } from "#core/plan/polygon.ts";

export interface PlacedProbe {
  readonly key: string;
  readonly node: NodeBody;
  readonly quantity: string;
  readonly label: string;
  readonly place: string | null;
  readonly at: PlanPoint | null;
  readonly lastHeard: string | null;
}

export function probesOf(nodes: readonly NodeStateBody[]): PlacedProbe[] {
  return nodes
    .filter(({ retired }) => retired !== true)
    .flatMap(({ node, lastHeard }) => {
      const slabs = Object.keys(node.probes ?? {}).filter((quantity) => quantity.startsWith("slab"));
      const quantities = node.zone === null ? ["air"] : slabs.length === 0 ? ["slab"] : slabs;
      return quantities.map((quantity) => {
        const { place = null, xM, yM } = node.probes?.[quantity] ?? {};
        return {
          ...{ key: `${node.id}/${quantity}`, node, quantity, place, lastHeard },
          label: quantities.length === 1 ? node.id : `${node.id} ${quantity}`,
          at: xM === undefined || yM === undefined ? null : { xM, yM },
        };
      });
    });
}
