// The desk's recipes: how payloads of sensors that already exist are read, and what a pasted message would give.
import { isoFromMs } from "#contract/primitives.ts";
import {
  type RecipeBody,
  recipeFaults,
  recipesFaults,
  type RecipeTriedBody,
  type RecipeTryBody,
} from "#contract/recipe.ts";
import { readByRecipe } from "#contract/recipe-reading.ts";
import { quantityKind } from "#contract/reading.ts";
import { filtersOverlap } from "#contract/topic-filter.ts";
import { type Answer, good, refuse, refuseAll } from "./answer.ts";
import { type Office, siteOf } from "./office.ts";

const UNITS = { slab: "°C", air: "°C", dew: "°C", rh: "%", battery: "%", rssi: "dBm", door: "" } as const;

function unitOf(quantity: string): string {
  const kind = quantity === "battery.v" ? null : quantityKind(quantity);
  return kind === null ? "V" : UNITS[kind];
}

export function createRecipeDesk(office: Office) {
  const { sites, store, moments, broker } = office;
  return {
    recipes(siteId: string): Answer<readonly RecipeBody[]> {
      const site = siteOf(office, siteId);
      return site.ok ? good(site.value.recipes) : site;
    },

    async putRecipes(siteId: string, recipes: readonly RecipeBody[]): Promise<Answer<readonly RecipeBody[]>> {
      const site = siteOf(office, siteId);
      if (!site.ok) return site;
      const faults = recipesFaults(recipes);
      if (faults.length > 0) return refuseAll("invalid", faults);
      // A topic belongs to one site: whose readings it brings is never guessed.
      for (const other of sites.all()) {
        if (other.id === siteId) continue;
        for (const [index, { topic }] of recipes.entries()) {
          const taken = other.recipes.find((one) => filtersOverlap(one.topic, topic));
          if (taken !== undefined)
            return refuse("conflict", `/${index}/topic`, `overlaps with a recipe of the site "${other.id}"`);
        }
      }
      store.together(() => store.nodes.putRecipes(siteId, recipes, moments.now()));
      site.value.recipes = recipes;
      broker.hear();
      return good(recipes);
    },

    /** Stores nothing. */
    tryRecipe(siteId: string, { recipe, topic, payload }: RecipeTryBody): Answer<RecipeTriedBody> {
      const site = siteOf(office, siteId);
      if (!site.ok) return site;
      const wrong = recipeFaults(recipe);
      if (wrong.length > 0)
        return refuseAll(
          "invalid",
          wrong.map(({ field, reason }) => ({ field: `/recipe${field}`, reason })),
        );
      let body: unknown;
      try {
        body = JSON.parse(payload);
      } catch {
        const begins = payload.trim().slice(0, 40);
        const reason = begins === "" ? "is empty" : `is not JSON: it begins with ${JSON.stringify(begins)}`;
        return good({ node: null, readings: [], faults: [{ field: "/", reason }], notes: [] });
      }
      const { node, readings, faults, notes } = readByRecipe(recipe, topic, body, moments.now());
      const strange = node !== null && !site.value.knowsNode(node) ? [`"${node}" is no node of this site yet`] : [];
      return good({
        node,
        readings: readings.map(({ quantity, atMs, value }) => ({
          quantity,
          at: isoFromMs(atMs),
          value,
          unit: unitOf(quantity),
        })),
        faults: faults.map(({ field, reason }) => ({ field, reason })),
        notes: [...notes, ...strange],
      });
    },
  };
}
