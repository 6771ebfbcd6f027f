// The part of the desk that cares for nodes: who knocks, passwords, labels, a node's life, recipes, the sensors page.
import type { AdmitBody, KnockStateBody, MoveBody, ReplaceBody } from "#contract/knock.ts";
import type { RecipeBody, RecipeTriedBody, RecipeTryBody } from "#contract/recipe.ts";
import type { SensorsBody } from "#contract/sensors.ts";
import type { NodeBody } from "#contract/zone.ts";
import type { Answer } from "./answer.ts";
import type { NodeLabel } from "./node-label.ts";

export interface NodeDesk {
  sensors(site: string): Answer<SensorsBody>;
  knocks(site: string): Answer<readonly KnockStateBody[]>;
  /** Conflict when another device knocks by now, or the node is there already. */
  admitKnock(site: string, node: string, admit: AdmitBody): Promise<Answer<NodeBody>>;
  refuseKnock(site: string, node: string): Answer<null>;
  joinSecret(site: string): Answer<{ readonly joinSecret: string }>;
  /** A new one; nodes that are in notice nothing. */
  renewJoinSecret(site: string): Answer<{ readonly joinSecret: string }>;
  /** A new password, told once; connections made with the one before end. */
  makeCredentials(
    site: string,
    node: string,
  ): Promise<Answer<{ readonly username: string; readonly password: string; readonly label: NodeLabel }>>;
  dropCredentials(site: string, node: string): Promise<Answer<null>>;
  nodeLabel(site: string, node: string): Answer<NodeLabel>;
  /** The node as it is from now on; in another zone that is another node of the same device. */
  moveNode(site: string, node: string, body: MoveBody): Promise<Answer<NodeBody>>;
  replaceNode(site: string, node: string, body: ReplaceBody): Promise<Answer<NodeBody>>;
  retireNode(site: string, node: string, by: string | null): Promise<Answer<null>>;
  recipes(site: string): Answer<readonly RecipeBody[]>;
  putRecipes(site: string, recipes: readonly RecipeBody[]): Promise<Answer<readonly RecipeBody[]>>;
  tryRecipe(site: string, body: RecipeTryBody): Answer<RecipeTriedBody>;
}
