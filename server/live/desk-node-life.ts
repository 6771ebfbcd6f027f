// The desk's care for a node through its life: its password and label, moving, replacing and retiring it.
import { randomUUID } from "node:crypto";
import type { MoveBody, ReplaceBody } from "#contract/knock.ts";
import type { EntryBody } from "#contract/journal.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { isSlabQuantity } from "#contract/reading.ts";
import type { NodeBody } from "#contract/zone.ts";
import { type Answer, good, refuse } from "./answer.ts";
import { knockOf } from "./desk-knocks.ts";
import type { LiveSite } from "./live-site.ts";
import { type Office, siteOf } from "./office.ts";
import { newPassword } from "./secrets.ts";

export interface NodeLabel {
  readonly site: string;
  readonly siteName: string;
  readonly node: string;
  /** The name that the device sends under. */
  readonly device: string;
  readonly zoneName: string | null;
  readonly probes: readonly { readonly quantity: string; readonly place: string | null }[];
  readonly broker: string;
}

export interface MadeCredentials {
  readonly username: string;
  readonly password: string;
  readonly label: NodeLabel;
}

export interface LifeParts {
  readonly putNode: (site: string, node: NodeBody, mode: "add" | "change") => Promise<Answer<NodeBody>>;
  readonly addEntry: (site: string, entry: EntryBody, by: string | null) => Promise<Answer<EntryBody>>;
}

interface Known {
  readonly site: LiveSite;
  readonly body: NodeBody;
}

/** Probes of a node that have a voice: slab probes, and the air chip. */
function voicesOf(site: LiveSite, { id, probes = {} }: NodeBody): string[] {
  const heard = site.seriesOf(id).map(({ quantity }) => quantity);
  const slabs = [...new Set([...Object.keys(probes), ...heard])].filter(isSlabQuantity);
  return [...slabs, ...(heard.includes("air") || heard.includes("rh") ? ["air"] : [])].sort();
}

export function createNodeLifeDesk(office: Office, { putNode, addEntry }: LifeParts) {
  const { store, moments, broker, board } = office;

  const known = (siteId: string, node: string): Answer<Known> => {
    const site = siteOf(office, siteId);
    if (!site.ok) return site;
    const body = site.value.record.nodes.find(({ id }) => id === node);
    return body === undefined
      ? refuse("missing", "/node", `no node "${node}" on this site`)
      : good({ site: site.value, body });
  };

  const labelOf = (site: LiveSite, node: string): NodeLabel => {
    const body = site.record.nodes.find(({ id }) => id === node) ?? null;
    const zone = body === null || body.zone === null ? null : site.zone(body.zone, moments.now());
    const quantities = body === null ? [] : [...new Set([...Object.keys(body.probes ?? {}), ...voicesOf(site, body)])];
    return {
      site: site.id,
      siteName: site.record.site.name ?? site.id,
      node,
      device: site.deviceOf(node),
      zoneName: zone?.name ?? body?.zone ?? null,
      probes: quantities.map((quantity) => ({ quantity, place: body?.probes?.[quantity]?.place ?? null })),
      broker: broker.url() ?? "",
    };
  };

  /** One entry for every zone that a probe speaks for; outdoors there is no zone to tell. */
  const tell = async (
    { site, body }: Known,
    quantities: readonly string[],
    entry: (probe: string, quantity: string) => object,
    by: string | null,
  ): Promise<Answer<null>> => {
    const at = isoFromMs(moments.now());
    for (const zone of site.zonesOf(body.id, moments.now())) {
      for (const quantity of quantities) {
        const said = { id: `e-${randomUUID()}`, at, zone, ...entry(`${body.id}/${quantity}`, quantity) } as EntryBody;
        const kept = await addEntry(site.id, said, by);
        if (!kept.ok) return kept;
      }
    }
    return good(null);
  };

  const live = (site: LiveSite, { id }: NodeBody): Answer<null> =>
    site.lives.has(id) ? refuse("conflict", "/node", `"${id}" was taken out of use`) : good(null);

  const endLife = async (of: Known, replacedBy: string | null, by: string | null): Promise<Answer<null>> => {
    const told = await tell(of, voicesOf(of.site, of.body), (probe) => ({ did: "retired", probe }), by);
    if (!told.ok) return told;
    const life = { retiredMs: moments.heard(), replacedBy };
    store.together(() => store.nodes.putLife(of.site.id, of.body.id, life));
    of.site.lives.set(of.body.id, life);
    office.stream.publish(of.site.id, "node", of.body.id, board.nodeState(of.site, of.body));
    return good(null);
  };

  const nextName = (site: LiveSite, device: string): string => {
    for (let number = 2; ; number += 1) {
      const name = `${device.slice(0, 58)}-${number}`;
      if (!site.knowsNode(name) && !store.records.wasRemoved("node", site.id, name)) return name;
    }
  };

  return {
    nodeLabel(siteId: string, node: string): Answer<NodeLabel> {
      const of = known(siteId, node);
      return of.ok ? good(labelOf(of.value.site, node)) : of;
    },

    /** A new password; the one before ends at once. */
    async makeCredentials(siteId: string, node: string): Promise<Answer<MadeCredentials>> {
      const site = siteOf(office, siteId);
      if (!site.ok) return site;
      const isGateway = site.value.recipes.some(({ gateway }) => gateway === node);
      if (!isGateway && !site.value.knowsNode(node))
        return refuse("missing", "/node", `no node "${node}" on this site`);
      const device = site.value.deviceOf(node);
      const { password, key } = newPassword();
      store.together(() => store.nodes.putKey(siteId, device, key, moments.now()));
      broker.signOut(siteId, device);
      return good({ username: `${siteId}/${device}`, password, label: labelOf(site.value, node) });
    },

    async dropCredentials(siteId: string, node: string): Promise<Answer<null>> {
      const site = siteOf(office, siteId);
      if (!site.ok) return site;
      const device = site.value.deviceOf(node);
      if (store.nodes.key(siteId, device) === null)
        return refuse("missing", "/node", `"${node}" has no password of its own`);
      store.together(() => store.nodes.putKey(siteId, device, null, moments.now()));
      broker.signOut(siteId, device);
      return good(null);
    },

    /** Its probes lose their vote; what they said stays and counts for its time. */
    async retireNode(siteId: string, node: string, by: string | null): Promise<Answer<null>> {
      const of = known(siteId, node);
      if (!of.ok) return of;
      const alive = live(of.value.site, of.value.body);
      return alive.ok ? endLife(of.value, null, by) : alive;
    },

    /**
     * Another device in the same place. Under the same name the series go on. Under another one the old node is retired
     * and the new one takes its zone and places; both stand in the history of the zone.
     */
    async replaceNode(siteId: string, node: string, body: ReplaceBody): Promise<Answer<NodeBody>> {
      const by = body.who ?? null;
      const of = known(siteId, node);
      if (!of.ok) return of;
      const { site, body: old } = of.value;
      const alive = live(site, old);
      if (!alive.ok) return alive;
      if (body.by !== node && site.knowsNode(body.by))
        return refuse("conflict", "/by", `"${body.by}" is there already`);
      const knock = body.fingerprint === undefined ? null : knockOf(office, siteId, body.by, body.fingerprint);
      if (knock !== null && !knock.ok) return knock;
      const next: NodeBody = { ...old, id: body.by };
      if (body.by !== node) {
        const added = await putNode(siteId, next, "add");
        if (!added.ok) return added;
        const ended = await endLife(of.value, body.by, by);
        if (!ended.ok) return ended;
      }
      const device = body.by === node ? site.deviceOf(node) : body.by;
      const key = knock?.value.body.key ?? null;
      const held = knock === null ? [] : store.nodes.held(siteId, body.by);
      store.together(() => {
        store.nodes.putKey(siteId, device, key, moments.now());
        if (knock === null) return;
        store.nodes.dropKnock(siteId, body.by);
        store.nodes.dropHeld(siteId, body.by);
      });
      broker.signOut(siteId, device);
      for (const { topic, payload } of held) await office.pass(topic, payload);
      return good(next);
    },

    /**
     * Within its zone its probes get new places. In another zone the device goes on as another node: what it measured
     * before stays with the zone in which it was measured.
     */
    async moveNode(siteId: string, node: string, body: MoveBody): Promise<Answer<NodeBody>> {
      const by = body.who ?? null;
      const of = known(siteId, node);
      if (!of.ok) return of;
      const { site, body: old } = of.value;
      const alive = live(site, old);
      if (!alive.ok) return alive;
      const { probes: _, ...rest } = old;
      const moved: NodeBody = {
        ...rest,
        zone: body.zone,
        ...(body.probes === undefined ? {} : { probes: body.probes }),
      };
      if (body.zone === old.zone) {
        const kept = await putNode(siteId, moved, "change");
        if (!kept.ok) return kept;
        const now = { site, body: moved };
        const slabs = voicesOf(site, moved).filter(isSlabQuantity);
        const told = await tell(
          now,
          slabs,
          (probe, quantity) => ({ did: "moved", probe, ...body.probes?.[quantity] }),
          by,
        );
        return told.ok ? kept : told;
      }
      const device = site.deviceOf(node);
      const next = await putNode(siteId, { ...moved, id: nextName(site, device) }, "add");
      if (!next.ok) return next;
      const ended = await endLife(of.value, next.value.id, by);
      if (!ended.ok) return ended;
      const stay = { device, fromMs: moments.heard(), node: next.value.id };
      store.together(() => store.nodes.putDevice(siteId, stay));
      site.stays = [...site.stays, stay];
      return next;
    },
  };
}
