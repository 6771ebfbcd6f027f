// Applies one event of the stream to the board that is shown. Pure.
import type { BoardBody, BoardZoneBody } from "#contract/board.ts";
import type { StreamBody, StreamEvent } from "#contract/stream.ts";

/** An event with its body, as the contract types it. */
export type Told = { [E in StreamEvent]: { readonly event: E; readonly body: StreamBody<E> } }[StreamEvent];

const NAMES: readonly StreamEvent[] = ["snapshot", "call", "conditions", "zone", "journal", "node", "alarm", "beat"];

/** The event, or null if its name is unknown or its data is not JSON: a newer server may say more than this page knows. */
export function toldFrom(event: string, data: string): Told | null {
  const name = NAMES.find((known) => known === event);
  if (name === undefined) return null;
  try {
    return { event: name, body: JSON.parse(data) as unknown } as Told;
  } catch {
    return null;
  }
}

function withZone(board: BoardBody, id: string, change: (zone: BoardZoneBody) => BoardZoneBody): BoardBody {
  const at = board.zones.findIndex(({ zone }) => zone.id === id);
  const zone = board.zones[at];
  if (zone === undefined) return board;
  const zones = [...board.zones];
  zones[at] = change(zone);
  return { ...board, zones };
}

/** The strip's past grows with each new call, until the server sends the zone whole. */
function withCall(zone: BoardZoneBody, call: BoardZoneBody["call"]): BoardZoneBody {
  const last = zone.past.at(-1);
  if (last !== undefined && last.call === call.call && last.limiting === call.limiting) return { ...zone, call };
  const closed = zone.past.map((stretch) => (stretch.to === null ? { ...stretch, to: call.at } : stretch));
  return {
    ...zone,
    call,
    past: [...closed, { from: call.at, to: null, call: call.call, limiting: call.limiting, hindsight: false }],
  };
}

export function applyTold(board: BoardBody | null, told: Told): BoardBody | null {
  if (told.event === "snapshot") return told.body;
  if (board === null) return null;
  switch (told.event) {
    case "call":
      return withZone({ ...board, at: told.body.at }, told.body.zone, (zone) => withCall(zone, told.body));
    case "conditions": {
      const { zone: id, at, conditions } = told.body;
      const lastHeard =
        conditions.ageS === null ? null : new Date(Date.parse(at) - conditions.ageS * 1000).toISOString();
      return withZone({ ...board, at }, id, (zone) => ({
        ...zone,
        call: { ...zone.call, conditions },
        lastHeard: lastHeard ?? zone.lastHeard,
      }));
    }
    case "zone": {
      const known = board.zones.some((zone) => zone.zone.id === told.body.zone.id);
      return known
        ? withZone(board, told.body.zone.id, () => told.body)
        : { ...board, zones: [...board.zones, told.body] };
    }
    case "node": {
      const rest = board.nodes.filter((node) => node.node.id !== told.body.node.id);
      return {
        ...board,
        nodes:
          rest.length === board.nodes.length
            ? [...rest, told.body]
            : board.nodes.map((node) => (node.node.id === told.body.node.id ? told.body : node)),
      };
    }
    case "beat":
      return { ...board, at: told.body.at };
    case "journal":
    case "alarm":
      return board;
  }
}
