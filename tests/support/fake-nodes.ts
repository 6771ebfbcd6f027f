// The part of the kept desk that cares for nodes: it knows one node that knocks and forgets what it is told.
import type { BoardBody } from "#contract/board.ts";
import { fail } from "#contract/faults.ts";
import type { KnockStateBody } from "#contract/knock.ts";
import type { RecipeBody } from "#contract/recipe.ts";
import { recipesFaults } from "#contract/recipe.ts";
import type { Answer, Refusal } from "../../server/http/answer.ts";
import type { NodeDesk } from "../../server/http/desk-nodes.ts";
import { at } from "./sample-site.ts";
import { sampleOpinions } from "./sample-opinions.ts";

const good = <T>(value: T): Answer<T> => ({ ok: true, value });
const refuse = (refusal: Refusal["refusal"], field: string, reason: string): Refusal => ({
  ...fail(field, reason),
  refusal,
});

export function fakeNodeDesk(board: BoardBody, noSite: (site: string) => Refusal | null): NodeDesk {
  const knock: KnockStateBody = {
    node: "attic",
    what: "one slab probe and an air chip",
    quantities: ["slab", "air", "rh"],
    everyS: 300,
    fingerprint: null,
    state: "waiting",
    firstAt: at(-10),
    lastAt: at(-1),
    times: 4,
    others: 0,
    held: 2,
    known: false,
  };
  let recipes: readonly RecipeBody[] = [];
  const nodeOf = (site: string, node: string) => {
    const missing = noSite(site);
    if (missing) return missing;
    const found = board.nodes.find((of) => of.node.id === node);
    return found === undefined ? refuse("missing", "/node", `no node "${node}" on this site`) : good(found.node);
  };
  const labelOf = (site: string, node: string) => ({
    site,
    siteName: "Boathouse",
    node,
    device: node,
    zoneName: "Slip",
    probes: [{ quantity: "slab", place: "door" }],
    broker: "mqtt://127.0.0.1:1883",
  });
  return {
    sensors: (site) =>
      noSite(site) ??
      good({
        at: at(0),
        sensors: board.nodes.map(({ node, presence, lastHeard, batteryPct, rssiDbm }) => ({
          node,
          presence,
          lastHeard,
          quantities: [{ quantity: "slab", value: 12.5, at: at(-1), retired: false }],
          batteryPct,
          batteryV: null,
          rssiDbm,
          batteryDays: [90, null, 88],
          rssiDays: [-70, -71, null],
          heardShare: 0.97,
          warnings: [{ kind: "battery-falls", value: 40, unit: "%", inDays: 6.5 }],
          doubts: [{ probe: `${node.id}/slab`, kind: "detached", since: at(-60), measured: 0.8, limit: 0.5 }],
          passwordSince: null,
          retiredAt: null,
          replacedBy: null,
        })),
        zones: [sampleOpinions("slip", at)],
        knocks: [knock],
        quarantine: [
          { node: "attic", reason: "not JSON", field: "/", excerpt: "{", count: 3, firstAt: at(-60), lastAt: at(-5) },
        ],
        broker: "mqtt://127.0.0.1:1883",
      }),
    knocks: (site) => noSite(site) ?? good([knock]),
    async admitKnock(site, node, { fingerprint, ...body }) {
      const missing = noSite(site);
      if (missing) return missing;
      return fingerprint === null ? good({ ...body, id: node }) : refuse("conflict", "/fingerprint", "is another");
    },
    refuseKnock: (site) => noSite(site) ?? good(null),
    joinSecret: (site) => noSite(site) ?? good({ joinSecret: "abcde-fghjk-mnpqr-stuvw" }),
    renewJoinSecret: (site) => noSite(site) ?? good({ joinSecret: "abcde-fghjk-mnpqr-stuvx" }),
    async makeCredentials(site, node) {
      const found = nodeOf(site, node);
      return found.ok
        ? good({ username: `${site}/${node}`, password: "not-a-secret", label: labelOf(site, node) })
        : found;
    },
    async dropCredentials(site, node) {
      const found = nodeOf(site, node);
      return found.ok ? good(null) : found;
    },
    nodeLabel(site, node) {
      const found = nodeOf(site, node);
      return found.ok ? good(labelOf(site, node)) : found;
    },
    async moveNode(site, node, { zone }) {
      const found = nodeOf(site, node);
      return found.ok ? good({ ...found.value, zone }) : found;
    },
    async replaceNode(site, node, { by }) {
      const found = nodeOf(site, node);
      return found.ok ? good({ ...found.value, id: by }) : found;
    },
    async retireNode(site, node) {
      const found = nodeOf(site, node);
      return found.ok ? good(null) : found;
    },
    recipes: (site) => noSite(site) ?? good(recipes),
    async putRecipes(site, list) {
      const missing = noSite(site);
      if (missing) return missing;
      const faults = recipesFaults(list);
      if (faults.length > 0) return { ok: false, refusal: "invalid", faults };
      recipes = list;
      return good(list);
    },
    tryRecipe: (site) => noSite(site) ?? good({ node: null, readings: [], faults: [], notes: [] }),
  };
}
