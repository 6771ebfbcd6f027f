// What a client may know of a floor: from when it bears feet, wheels and water, and what to leave alone. Pure.
import type { ClientPageBody } from "#contract/access.ts";
import type { BoardBody, BoardZoneBody } from "#contract/board.ts";
import type { HandOverBody, UseBody } from "#contract/hand-over.ts";

type ClientZone = ClientPageBody["zones"][number];

function passed(iso: string | null, at: string): boolean {
  return iso !== null && Date.parse(iso) <= Date.parse(at);
}

/** From when the hand-over gives a use free: when it was, or else not before when. */
function dateOf(handOver: HandOverBody | null, use: UseBody["use"]): string | null {
  const found = handOver?.uses.find((one) => one.use === use);
  return found?.reachedAt ?? found?.notBefore ?? null;
}

function zoneFor({ zone, call }: BoardZoneBody, at: string, handOver: HandOverBody | null): ClientZone {
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
  const { dewSensitive } = film;
  // The hand-over goes by the slow side of the night ahead; without one the call's own, which is likelier, is not told.
  const walkOnAt = dateOf(handOver, "walk-on");
  const driveOnAt = dateOf(handOver, "traffic");
  const washAt = dateOf(handOver, "washing") ?? dateOf(handOver, "water");
  const estimated = handOver?.uses.some((one) => one.estimated) ?? false;
  const walkable = passed(walkOnAt, at);
  const drivable = passed(driveOnAt, at);
  const washable = passed(washAt, at);
  return {
    ...named,
    ...{ floor: "last-coat", walkOnAt, driveOnAt, washAt, estimated },
    leave: [
      ...(walkable ? [] : (["keep-off"] as const)),
      ...(drivable ? [] : (["no-vehicles"] as const)),
      ...(washable ? [] : (["no-water"] as const)),
      ...(drivable ? [] : (["keep-warm"] as const)),
      ...(dewSensitive ? (["keep-shut"] as const) : []),
      "leave-sensors",
    ],
  };
}

/** `handOverOf` gives the hand-over of a zone; null where there is none. */
export function clientPage(
  board: BoardBody,
  zone: string | null,
  handOverOf: (zone: string) => HandOverBody | null,
): ClientPageBody {
  const { id, name, timezone } = board.site;
  return {
    site: { id, name: name ?? id, timezone },
    at: board.at,
    zones: board.zones
      .filter((one) => zone === null || one.zone.id === zone)
      .map((one) => zoneFor(one, board.at, handOverOf(one.zone.id))),
  };
}
