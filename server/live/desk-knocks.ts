// The desk's door for nodes: who waits, letting in, saying no, and the secret that a node knocks with.
import { type AdmitBody, fingerprintOf, type KnockStateBody } from "#contract/knock.ts";
import { isoFromMs } from "#contract/primitives.ts";
import type { NodeBody } from "#contract/zone.ts";
import { type Answer, good, refuse } from "./answer.ts";
import type { LiveSite } from "./live-site.ts";
import { type Office, siteOf } from "./office.ts";
import type { Knock } from "./ports-nodes.ts";
import { newJoinSecret } from "./secrets.ts";

type PutNode = (site: string, node: NodeBody, mode: "add" | "change") => Promise<Answer<NodeBody>>;

export function knockStates({ store }: Office, site: LiveSite): KnockStateBody[] {
  return store.nodes.knocks(site.id).map((knock) => ({
    node: knock.node,
    what: knock.body.what,
    quantities: [...knock.body.quantities],
    everyS: knock.body.everyS ?? null,
    fingerprint: fingerprintOf(knock.body.key),
    state: knock.state,
    firstAt: isoFromMs(knock.firstMs),
    lastAt: isoFromMs(knock.lastMs),
    times: knock.times,
    others: knock.others,
    held: store.nodes.heldSize(site.id, knock.node).messages,
    known: site.knowsNode(knock.node),
  }));
}

/** The knock of a node, if it is the one that the person looked at. */
export function knockOf(office: Office, site: string, node: string, fingerprint: string | null): Answer<Knock> {
  const knock = office.store.nodes.knocks(site).find((one) => one.node === node);
  if (knock === undefined) return refuse("missing", "/node", `no node "${node}" knocks on this site`);
  return fingerprintOf(knock.body.key) === fingerprint
    ? good(knock)
    : refuse("conflict", "/fingerprint", "is not that of the device that knocks now: look again");
}

export function createKnockDesk(office: Office, putNode: PutNode) {
  const { store, moments } = office;
  return {
    knocks(siteId: string): Answer<readonly KnockStateBody[]> {
      const site = siteOf(office, siteId);
      return site.ok ? good(knockStates(office, site.value)) : site;
    },

    async admitKnock(siteId: string, node: string, admit: AdmitBody): Promise<Answer<NodeBody>> {
      const site = siteOf(office, siteId);
      if (!site.ok) return site;
      const { fingerprint, ...record } = admit;
      const knock = knockOf(office, siteId, node, fingerprint);
      if (!knock.ok) return knock;
      if (site.value.knowsNode(node))
        return refuse("conflict", "/node", `"${node}" is there already: replace it by the device that knocks`);
      const added = await putNode(siteId, { ...record, id: node }, "add");
      if (!added.ok) return added;
      const { key } = knock.value.body;
      const held = store.nodes.held(siteId, node);
      const atMs = moments.heard();
      store.together(() => {
        if (key !== undefined) store.nodes.putKey(siteId, node, key, atMs);
        store.nodes.dropKnock(siteId, node);
        store.nodes.dropHeld(siteId, node);
      });
      for (const { topic, payload } of held) await office.pass(topic, payload);
      return added;
    },

    /** What is held of it goes; it may knock again with another key. */
    refuseKnock(siteId: string, node: string): Answer<null> {
      const site = siteOf(office, siteId);
      if (!site.ok) return site;
      const knock = store.nodes.knocks(siteId).find((one) => one.node === node);
      if (knock === undefined) return refuse("missing", "/node", `no node "${node}" knocks on this site`);
      store.together(() => {
        store.nodes.putKnock(siteId, { ...knock, state: "refused" });
        store.nodes.dropHeld(siteId, node);
      });
      return good(null);
    },

    joinSecret(siteId: string): Answer<{ joinSecret: string }> {
      const site = siteOf(office, siteId);
      if (!site.ok) return site;
      const known = store.nodes.joinSecret(siteId);
      return known === null ? this.renewJoinSecret(siteId) : good({ joinSecret: known });
    },

    /** Nodes that are in have passwords of their own and notice nothing. */
    renewJoinSecret(siteId: string): Answer<{ joinSecret: string }> {
      const site = siteOf(office, siteId);
      if (!site.ok) return site;
      const joinSecret = newJoinSecret();
      store.together(() => store.nodes.putJoinSecret(siteId, joinSecret, moments.now()));
      return good({ joinSecret });
    },
  };
}
