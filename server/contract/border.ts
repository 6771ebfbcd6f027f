// What stays of a board and of its events for somebody who is bound to one zone. Pure.
import type { BoardBody } from "#contract/board.ts";
import type { StreamBody, StreamEvent } from "#contract/stream.ts";

/** The board with this zone and its nodes alone. */
export function boardWithin(board: BoardBody, zone: string): BoardBody {
  return {
    ...board,
    zones: board.zones.filter((one) => one.zone.id === zone),
    nodes: board.nodes.filter(({ node }) => node.zone === zone),
  };
}

const ZONE_OF: { readonly [E in StreamEvent]: (body: StreamBody<E>) => string | null } = {
  snapshot: () => null,
  call: ({ zone }) => zone,
  conditions: ({ zone }) => zone,
  zone: ({ zone }) => zone.id,
  journal: ({ zone }) => zone ?? null,
  node: ({ node }) => node.zone,
  // One that several zones share names them all.
  alarm: ({ zones: [zone, ...others] }) => (others.length > 0 ? null : (zone ?? null)),
  beat: () => null,
};

/** The zone that an event speaks of; null when of the whole site. */
export function zoneOfEvent<E extends StreamEvent>(event: E, body: StreamBody<E>): string | null {
  return ZONE_OF[event](body);
}
