// Sheets: the limits and times of products, typed by a person.
import Type from "typebox";
import { SheetSchema } from "#contract/sheet.ts";
import { sheetsWithin } from "../narrow.ts";
import { settle } from "../refused.ts";
import { type Api, answers, type RouteParts, WRITE_REFUSALS } from "../route-kit.ts";

const tags = ["sheets"];

export async function sheetRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sheets",
    {
      config: { may: "read", border: "narrowed" },
      schema: { tags, summary: "All sheets", response: answers(200, "The sheets", Type.Array(SheetSchema), []) },
    },
    async ({ who }) => sheetsWithin(desk, who),
  );

  api.put(
    "/sheets",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Add a sheet, or replace the one with its id; nonsense limits are kept, and no zone pours on them",
        body: SheetSchema,
        response: answers(200, "The sheet", SheetSchema, WRITE_REFUSALS),
      },
    },
    async ({ body }) => settle(await desk.putSheet(body)),
  );
}
