// The routes of the weather feed: what fits, and what is refused by field.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { FeedStateSchema, FeedTriedSchema } from "#contract/feed.ts";
import { LISTS_RECIPE } from "../support/feed-sample.ts";
import { type Door, openDoor } from "../support/http-door.ts";

let door: Door;
beforeEach(async () => {
  door = await openDoor();
});
afterEach(() => door.app.close());
const PATH = "/sites/boathouse/feed";
const fieldsOf = async (status: number, ...asked: [method: Parameters<Door["ask"]>[0], path: string, body?: unknown]) =>
  (await door.refused(status, ...asked)).faults?.map(({ field }) => field);

describe("the weather feed", () => {
  it("is shown, also when there is none", async () => {
    expect(await door.fits(FeedStateSchema, 200, "GET", PATH)).toMatchObject({ recipe: null, used: false });
    expect(await fieldsOf(404, "GET", "/sites/nowhere/feed")).toEqual(["/site"]);
  });
  it("takes a recipe that fits its schema, and names each fault of one that does not", async () => {
    expect((await door.fits(FeedStateSchema, 200, "PUT", PATH, LISTS_RECIPE)).recipe).toEqual(LISTS_RECIPE);
    const wrong = {
      ...LISTS_RECIPE,
      source: { url: "gopher://x" },
      everyMin: 1,
      air: { at: "hourly", unit: "R" },
      headers: [{ name: "x-key", value: "hunter2" }],
    };
    expect(await fieldsOf(422, "PUT", PATH, wrong)).toEqual(
      expect.arrayContaining([
        "/source/url",
        "/everyMin",
        "/air/at",
        "/air/unit",
        "/headers/0/secret",
        "/headers/0/value",
      ]),
    );
    expect(await fieldsOf(404, "PUT", "/sites/nowhere/feed", LISTS_RECIPE)).toEqual(["/site"]);
  });
  it("is taken away", async () => {
    expect((await door.ask("DELETE", PATH)).statusCode).toBe(204);
    expect(await fieldsOf(404, "DELETE", "/sites/nowhere/feed")).toEqual(["/site"]);
  });
  it("is tried with a body of any kind, or with none", async () => {
    for (const body of [{}, [], "<html>", 7, null])
      await door.fits(FeedTriedSchema, 200, "POST", `${PATH}/try`, { recipe: LISTS_RECIPE, body });
    await door.fits(FeedTriedSchema, 200, "POST", `${PATH}/try`, { recipe: LISTS_RECIPE });
    expect(await fieldsOf(422, "POST", `${PATH}/try`, { body: {} })).toEqual(["/recipe"]);
  });
});
