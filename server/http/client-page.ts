// What a client may know of a floor: from when it bears feet, wheels and water, and what to leave alone. Pure.
import type { ClientPageBody } from "#contract/access.ts";
import type { BoardBody, BoardZoneBody } from "#contract/board.ts";

type ClientZone = ClientPageBody["zones"][number];

function passed(iso: string | null, at: string): boolean {
  return iso !== null && Date.parse(iso) <= Date.parse(at);
}

function zoneFor({ zone, call }: BoardZoneBody, at: string): ClientZone {
  const { film, nextCoat, pouring } = call;
  const named = { zone: zone.id, name: zone.name, washAt: null };
  // A date before the last coat lies would be taken for the date of the floor.
  if (film === null || nextCoat !== null || pouring) {
    return {
      ...named,
      floor: film === null && !pouring ? "bare" : "more-coats",
      ...{ walkOnAt: null, driveOnAt: null, estimated: false },
      leave: ["keep-off", "no-water", "keep-warm", "keep-shut", "leave-sensors"],
    };
  }
  const { walkOnAt, driveOnAt, dewSensitive, estimated } = film;
  const walkable = passed(walkOnAt, at);
  const drivable = passed(driveOnAt, at);
  return {
    ...named,
    ...{ floor: "last-coat", walkOnAt, driveOnAt, estimated },
    leave: [
      ...(walkable ? [] : (["keep-off"] as const)),
      ...(drivable ? [] : (["no-vehicles", "no-water", "keep-warm"] as const)),
      ...(dewSensitive ? (["keep-shut"] as const) : []),
      "leave-sensors",
    ],
  };
}

export function clientPage(board: BoardBody, zone: string | null): ClientPageBody {
  const { id, name, timezone } = board.site;
  return {
    site: { id, name: name ?? id, timezone },
    at: board.at,
    zones: board.zones.filter((one) => zone === null || one.zone.id === zone).map((one) => zoneFor(one, board.at)),
  };
}
