// Sheets: the limits and times of products, typed by a person and confirmed against the page.
import Type from "typebox";
import { SheetSchema } from "#contract/sheet.ts";
import { ConfirmSchema, SheetParams, SheetVersionSchema } from "#contract/sheet-version.ts";
import { sheetsWithin } from "../narrow.ts";
import { Refused, settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, WRITE_REFUSALS } from "../route-kit.ts";
import { writtenBy } from "../written-by.ts";

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

  api.get(
    "/sheets/:sheet/versions",
    {
      config: { may: "read", border: "narrowed" },
      schema: {
        tags,
        summary: "Every version of a sheet, oldest first: when it was saved, by whom, and who confirmed it",
        params: SheetParams,
        response: answers(200, "The versions", Type.Array(SheetVersionSchema), READ_REFUSALS),
      },
    },
    async ({ params, who }) => {
      if ((who?.sites ?? null) !== null && !sheetsWithin(desk, who).some(({ id }) => id === params.sheet))
        throw new Refused(404, "", [{ field: "/sheet", reason: `no sheet "${params.sheet}"` }]);
      return [...settle(desk.sheetVersions(params.sheet))];
    },
  );

  api.put(
    "/sheets",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary:
          "Add a sheet, or a version of the one with its id; nonsense limits are kept, and no zone pours on them, nor on " +
          "a sheet with `confirmed: null`",
        body: SheetSchema,
        response: answers(200, "The sheet", SheetSchema, WRITE_REFUSALS),
      },
    },
    async ({ body, who }) =>
      settle(await desk.putSheet(body, writtenBy(who, body.saved?.by ?? undefined, "/saved/by"))),
  );

  api.post(
    "/sheets/:sheet/confirm",
    {
      config: { may: "plan" },
      schema: {
        tags,
        summary: "Somebody has held the sheet against the page: from now on it is a limit",
        params: SheetParams,
        body: ConfirmSchema,
        response: answers(200, "The sheet", SheetSchema, WRITE_REFUSALS),
      },
    },
    async ({ params, body, who }) =>
      settle(await desk.confirmSheet(params.sheet, body.revision, writtenBy(who, body.by))),
  );
}
