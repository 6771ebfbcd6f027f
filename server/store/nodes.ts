// What lets nodes in, in the embedded database: join secrets, keys, knocks, held messages, lives of nodes, recipes.
import type { KnockBody } from "#contract/knock.ts";
import type { RecipeBody } from "#contract/recipe.ts";
import type { Database } from "./sql.ts";
import type { HeldMessage, Knock, NodeStore } from "./ports.ts";

export function createNodes(db: Database): NodeStore {
  const one = (sql: string) => db.prepare(sql);
  const secret = one("SELECT secret FROM join_secrets WHERE site = ?");
  const putSecret = one(
    "INSERT INTO join_secrets (site, secret, from_ms) VALUES (?1, ?2, ?3) ON CONFLICT (site) DO UPDATE SET secret = ?2, from_ms = ?3",
  );
  const allKeys = one("SELECT site, node, key FROM node_keys");
  const keys = one("SELECT node, from_ms FROM node_keys WHERE site = ?");
  const putKey = one(
    "INSERT INTO node_keys (site, node, key, from_ms) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (site, node) DO UPDATE SET key = ?3, from_ms = ?4",
  );
  const dropKey = one("DELETE FROM node_keys WHERE site = ? AND node = ?");
  const knocks = one(
    "SELECT node, body, address, state, first_ms, last_ms, times, others FROM knocks WHERE site = ? ORDER BY node",
  );
  const putKnock = one(
    `INSERT INTO knocks (site, node, body, address, state, first_ms, last_ms, times, others) VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9)
     ON CONFLICT (site, node) DO UPDATE SET body = ?3, address = ?4, state = ?5, first_ms = ?6, last_ms = ?7, times = ?8, others = ?9`,
  );
  const dropKnock = one("DELETE FROM knocks WHERE site = ? AND node = ?");
  const hold = one("INSERT INTO held (site, node, topic, payload, heard_ms) VALUES (?, ?, ?, ?, ?)");
  const heldCount = one("SELECT count(*), coalesce(sum(length(payload)), 0) FROM held WHERE site = ? AND node = ?");
  const held = one("SELECT topic, payload, heard_ms FROM held WHERE site = ? AND node = ? ORDER BY seq");
  const dropHeld = one("DELETE FROM held WHERE site = ? AND node = ?");
  const lives = one("SELECT node, retired_ms, replaced_by FROM node_lives WHERE site = ?");
  const retire = one(
    "INSERT INTO node_lives (site, node, retired_ms, replaced_by) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (site, node) DO UPDATE SET retired_ms = ?3, replaced_by = ?4",
  );
  const revive = one("DELETE FROM node_lives WHERE site = ? AND node = ?");
  const devices = one("SELECT device, from_ms, node FROM devices WHERE site = ? ORDER BY device, from_ms");
  const putDevice = one("INSERT INTO devices (site, device, from_ms, node) VALUES (?, ?, ?, ?)");
  const recipes = one("SELECT body FROM node_recipes WHERE site = ? ORDER BY version DESC LIMIT 1");
  const putRecipes = one(
    `INSERT INTO node_recipes (site, id, version, from_ms, body)
     SELECT ?1, 'recipes', 1 + coalesce((SELECT max(version) FROM node_recipes WHERE site = ?1), 0), ?2, ?3`,
  );
  // Asked for every message of a client that has no password itself.
  let known: Map<string, string> | null = null;
  db.onUndone(() => (known = null));
  const keyOf = (site: string, node: string): string | null => {
    known ??= new Map(allKeys.all().map(([of, name, text]) => [`${of}/${name}`, text as string]));
    return known.get(`${site}/${node}`) ?? null;
  };
  return {
    joinSecret: (site) => (secret.get(site)?.[0] ?? null) as string | null,
    putJoinSecret: (site, text, fromMs) => void putSecret.run(site, text, fromMs),
    key: keyOf,
    keys: (site) => new Map(keys.all(site).map(([node, fromMs]) => [node as string, fromMs as number])),
    putKey(site, node, text, fromMs) {
      if (text === null) dropKey.run(site, node);
      else putKey.run(site, node, text, fromMs);
      known = null;
    },
    knocks: (site) =>
      knocks.all(site).map(([node, body, address, state, firstMs, lastMs, times, others]) => ({
        node: node as string,
        body: JSON.parse(body as string) as KnockBody,
        address: address as string | null,
        state: state as Knock["state"],
        firstMs: firstMs as number,
        lastMs: lastMs as number,
        times: times as number,
        others: others as number,
      })),
    putKnock: (site, { node, body, address, state, firstMs, lastMs, times, others }) =>
      void putKnock.run(site, node, JSON.stringify(body), address, state, firstMs, lastMs, times, others),
    dropKnock: (site, node) => void dropKnock.run(site, node),
    hold: (site, node, { topic, payload, heardMs }) =>
      void hold.run(site, node, topic, Buffer.from(payload).toString("base64"), heardMs),
    heldSize(site, node) {
      const [messages, characters] = heldCount.get(site, node) ?? [0, 0];
      return { messages: messages as number, bytes: ((characters as number) * 3) / 4 };
    },
    held: (site, node) =>
      held.all(site, node).map(
        ([topic, payload, heardMs]): HeldMessage => ({
          topic: topic as string,
          payload: Buffer.from(payload as string, "base64"),
          heardMs: heardMs as number,
        }),
      ),
    dropHeld: (site, node) => void dropHeld.run(site, node),
    lives: (site) =>
      lives.all(site).map(([node, retiredMs, replacedBy]) => ({
        node: node as string,
        retiredMs: retiredMs as number,
        replacedBy: replacedBy as string | null,
      })),
    putLife: (site, node, life) =>
      void (life === null ? revive.run(site, node) : retire.run(site, node, life.retiredMs, life.replacedBy)),
    devices: (site) =>
      devices.all(site).map(([device, fromMs, node]) => ({
        device: device as string,
        fromMs: fromMs as number,
        node: node as string,
      })),
    putDevice: (site, { device, fromMs, node }) => void putDevice.run(site, device, fromMs, node),
    recipes(site) {
      const body = recipes.get(site)?.[0];
      return typeof body === "string" ? (JSON.parse(body) as RecipeBody[]) : [];
    },
    putRecipes: (site, list, fromMs) => void putRecipes.run(site, fromMs, JSON.stringify(list)),
  };
}
