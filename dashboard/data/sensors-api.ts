// What the sensors page asks of the server. Loaded with that page.
import type { AdmitBody, CredentialsBody, MoveBody, ReplaceBody } from "#contract/knock.ts";
import type { RecipeBody, RecipeTriedBody, RecipeTryBody } from "#contract/recipe.ts";
import type { SensorsBody } from "#contract/sensors.ts";
import type { NodeBody } from "#contract/zone.ts";
import { api, ask, change } from "./api.ts";

const at = (site: string) => `/sites/${encodeURIComponent(site)}`;
const node = (site: string, id: string) => `${at(site)}/nodes/${encodeURIComponent(id)}`;
const knock = (site: string, id: string) => `${at(site)}/knocks/${encodeURIComponent(id)}`;

export const sensorsApi = {
  sensors: (site: string) => ask<SensorsBody>(`${at(site)}/sensors`),
  joinSecret: (site: string) => ask<{ readonly joinSecret: string }>(`${at(site)}/join-secret`),
  renewJoinSecret: (site: string) =>
    ask<{ readonly joinSecret: string }>(`${at(site)}/join-secret`, change("POST", {})),
  admit: (site: string, id: string, body: AdmitBody) => ask<NodeBody>(`${knock(site, id)}/admit`, change("POST", body)),
  refuse: (site: string, id: string) => ask<null>(`${knock(site, id)}/refuse`, change("POST", {})),
  add: (site: string, body: NodeBody) => ask<NodeBody>(`${at(site)}/nodes`, change("POST", body)),
  credentials: (site: string, id: string, secretInLabel: boolean) =>
    ask<CredentialsBody>(`${node(site, id)}/credentials`, change("POST", { secretInLabel })),
  move: (site: string, id: string, body: MoveBody) => ask<NodeBody>(`${node(site, id)}/move`, change("POST", body)),
  replace: (site: string, id: string, body: ReplaceBody) =>
    ask<NodeBody>(`${node(site, id)}/replace`, change("POST", body)),
  retire: (site: string, id: string, who: string | null) =>
    ask<null>(`${node(site, id)}/retire`, change("POST", who === null ? {} : { who })),
  labelHref: (site: string, id: string) => `${api.root}${node(site, id)}/label`,
  recipes: (site: string) => ask<readonly RecipeBody[]>(`${at(site)}/recipes`),
  putRecipes: (site: string, recipes: readonly unknown[]) =>
    ask<readonly RecipeBody[]>(`${at(site)}/recipes`, { ...change("POST", recipes), method: "PUT" }),
  tryRecipe: (site: string, body: RecipeTryBody) =>
    ask<RecipeTriedBody>(`${at(site)}/recipes/try`, change("POST", body)),
};
