// What the live log needs of the store to let nodes in, and of the broker that they come through.
import type { KnockBody } from "#contract/knock.ts";
import type { RecipeBody } from "#contract/recipe.ts";

export interface Knock {
  readonly node: string;
  readonly body: KnockBody;
  readonly address: string | null;
  readonly state: "waiting" | "refused";
  readonly firstMs: number;
  readonly lastMs: number;
  readonly times: number;
  readonly others: number;
}

export interface HeldMessage {
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly heardMs: number;
}

/** From when on a device speaks as a node other than its own name: it was carried to another zone. */
export interface DeviceStay {
  readonly device: string;
  readonly fromMs: number;
  readonly node: string;
}

export interface NodeLife {
  readonly retiredMs: number;
  readonly replacedBy: string | null;
}

export interface LiveNodeStore {
  joinSecret(site: string): string | null;
  putJoinSecret(site: string, secret: string, fromMs: number): void;
  key(site: string, node: string): string | null;
  keys(site: string): Map<string, number>;
  putKey(site: string, node: string, key: string | null, fromMs: number): void;
  knocks(site: string): Knock[];
  putKnock(site: string, knock: Knock): void;
  dropKnock(site: string, node: string): void;
  hold(site: string, node: string, message: HeldMessage): void;
  heldSize(site: string, node: string): { readonly messages: number; readonly bytes: number };
  held(site: string, node: string): HeldMessage[];
  dropHeld(site: string, node: string): void;
  lives(site: string): (NodeLife & { readonly node: string })[];
  putLife(site: string, node: string, life: NodeLife | null): void;
  devices(site: string): DeviceStay[];
  putDevice(site: string, stay: DeviceStay): void;
  recipes(site: string): RecipeBody[];
  putRecipes(site: string, recipes: readonly RecipeBody[], fromMs: number): void;
}

/** The broker, as the desk of nodes needs it. */
export interface BrokerPort {
  /** Where nodes reach it; null before it is open. */
  url(): string | null;
  /** Hears the topics of all recipes. */
  hear(): void;
  signOut(site: string, node: string): void;
}
