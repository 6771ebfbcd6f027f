// From what a moment knows to its signs: each family looks, and what follows from another cause is folded into it.
import { coldCauses, dataCauses, dewCauses, filmPlace, type Found, isUnjudged } from "#core/alarm/film-causes.ts";
import type { NodeMoment, SiteMoment, ZoneMoment } from "#core/alarm/moment.ts";
import { batteryCauses, doubtCauses, silenceCauses } from "#core/alarm/node-causes.ts";
import { CAUSES } from "#core/alarm/rules.ts";
import { serverCauses } from "#core/alarm/server-causes.ts";
import { placeOf, type Report, type Sign } from "#core/alarm/sign.ts";
import { doorCauses, heatCauses, pourCauses, windowCauses } from "#core/alarm/zone-causes.ts";

/** Signs that stand, by their place. */
export type Shown = ReadonlyMap<string, Sign>;

/** What speaks of zones, by zone and in its order: of a thousand each would else look through that of all. */
function inZones<T extends { readonly zones: readonly string[] }>(all: readonly T[]): (zone: string) => readonly T[] {
  const of = new Map<string, T[]>();
  for (const one of all)
    for (const zone of new Set(one.zones)) {
      const own = of.get(zone) ?? [];
      own.push(one);
      of.set(zone, own);
    }
  return (zone) => of.get(zone) ?? [];
}

/** Of one zone: what stands there, and its nodes with a door. */
interface Here {
  readonly standing: readonly Sign[];
  readonly doors: readonly NodeMoment[];
}

function zoneCauses(zone: ZoneMoment, moment: SiteMoment, shown: Shown, { standing, doors }: Here): Found[] {
  const at = (group: string) => shown.get(placeOf({ group, member: zone.zone }));
  const film = (group: "dew" | "cold") => shown.get(placeOf(filmPlace(group, zone)));
  const dew = dewCauses(zone, film("dew"));
  const cold = coldCauses(zone, film("cold"));
  const isAhead = (sign: Sign) => sign.kind === "margin-ahead" || sign.kind === "cold-ahead";
  const heat = heatCauses(zone, at("heat"), dew.signs.find(isAhead) ?? cold.signs.find(isAhead));
  // Heat that is lost is the cause: what is foreseen at the film is said with it, unless it has been said already.
  const folds = heat.signs.length > 0;
  const kept = ({ signs, fine }: Found): Found => ({
    signs: signs.filter((sign) => !folds || !isAhead(sign) || shown.has(placeOf(sign))),
    fine,
  });
  // What stood for a film that another coat lies on by now, or that was taken off.
  const buried = isUnjudged(zone)
    ? []
    : standing.filter(
        ({ group, member }) => (group === "dew" || group === "cold") && member !== filmPlace(group, zone).member,
      );
  const doubts = standing.filter(({ group }) => group === "doubt");
  return [
    { signs: [], fine: buried.map(placeOf) },
    kept(dew),
    kept(cold),
    heat,
    windowCauses(zone, moment.driveMin ?? CAUSES.driveMin, at(`window/${zone.zone}`)),
    pourCauses(zone),
    doorCauses(zone, doors, at(`door/${zone.zone}`)),
    doubtCauses(zone, doubts),
  ];
}

/** Places of zones, nodes and channels that are no more: what stood there is over. */
function goneOf({ knownZones, nodes, server }: SiteMoment, shown: Shown): string[] {
  const [zoneIds, nodeIds] = [new Set(knownZones), new Set(nodes.map(({ node }) => node))];
  const channels = server.channels === null ? null : new Set(server.channels.map(({ about }) => about));
  const isGone = ({ group, member, zones }: Sign): boolean => {
    if (group === "silent" || group === "battery") return !nodeIds.has(member);
    if (group === "doubt") return !nodeIds.has(member.split("/")[0] ?? member);
    if (group === "channel") return channels !== null && !channels.has(member);
    return member !== "" && !zones.some((zone) => zoneIds.has(zone));
  };
  return [...shown.values()].filter(isGone).map(placeOf);
}

export function reportOf(moment: SiteMoment, shown: Shown): Report {
  const shownOf = (group: string) => shown.get(placeOf({ group, member: "" }));
  const silence = silenceCauses(moment);
  const brokerDown = moment.server.brokerDown === true;
  const silentIn = inZones(silence.signs);
  const standingIn = inZones([...shown.values()]);
  const doorsIn = inZones(moment.nodes.filter(({ hasDoor }) => hasDoor));
  const data = moment.zones.map((zone) =>
    dataCauses(
      zone,
      silentIn(zone.zone).map(({ member }) => member),
    ),
  );
  const blind = new Set(data.flatMap(({ signs }) => signs.flatMap(({ zones }) => zones)));
  // One cause, one alarm: a broker that is down silences every node, and a node that is silent may blind its zone.
  const isFolded = (sign: Sign): boolean => {
    if (shown.has(placeOf(sign))) return false;
    if (brokerDown && (sign.kind === "node-silent" || sign.kind === "data-lost")) return true;
    return sign.kind === "node-silent" && sign.zones.length > 0 && sign.zones.every((zone) => blind.has(zone));
  };
  const found: Found[] = [
    ...moment.zones.flatMap((zone) =>
      zoneCauses(zone, moment, shown, { standing: standingIn(zone.zone), doors: doorsIn(zone.zone) }),
    ),
    ...data,
    silence,
    batteryCauses(moment),
    serverCauses(moment, shownOf),
  ];
  return {
    signs: found.flatMap(({ signs }) => signs).filter((sign) => !isFolded(sign)),
    fine: new Set([...found.flatMap(({ fine }) => fine), ...goneOf(moment, shown)]),
  };
}
