// The record: coats of a zone, the record of one, days, the hand-over, and everything of a job as one file.
import { Readable } from "node:stream";
import Type from "typebox";
import { HandOverSchema } from "#contract/hand-over.ts";
import { Id } from "#contract/primitives.ts";
import { CoatRecordSchema, DaySummarySchema, RecordIndexSchema } from "#contract/record.ts";
import { Day } from "#contract/record-parts.ts";
import { PdfWishQuery, wishOf } from "../pdf-wish.ts";
import { settle } from "../refused.ts";
import {
  type Api,
  answers,
  READ_REFUSALS,
  type RouteParts,
  SiteParams,
  textAnswers,
  ZoneParams,
} from "../route-kit.ts";

const tags = ["record"];
const closed = { additionalProperties: false } as const;
const Coat = Type.String({ pattern: "^[0-9]{1,2}$", description: "counted from 0, as in the journal" });
const CoatParams = Type.Object({ site: Id, zone: Id, coat: Coat }, closed);
const DayParams = Type.Object({ site: Id, day: Day }, closed);
const CsvPart = Type.Object({ part: Type.Optional(Type.Enum(["conditions", "calls"])) }, closed);

const attached = (name: string) => `attachment; filename="${name}"`;

export async function recordRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/coats",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "Coats of all zones, the days that can be summed up, and the heads of the closed days",
        params: SiteParams,
        response: answers(200, "The list", RecordIndexSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.coats(params.site, null)),
  );
  api.get(
    "/sites/:site/zones/:zone/coats",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "The same for one zone",
        params: ZoneParams,
        response: answers(200, "The list", RecordIndexSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.coats(params.site, params.zone)),
  );
  api.get(
    "/sites/:site/zones/:zone/coats/:coat/record",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "The record of a coat: whether the limits of its sheet were met, or who decided otherwise",
        params: CoatParams,
        response: answers(200, "The record", CoatRecordSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.coatRecord(params.site, params.zone, Number(params.coat))),
  );
  api.get(
    "/sites/:site/zones/:zone/coats/:coat/record.csv",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "Conditions or calls of that record as a table (RFC 4180)",
        params: CoatParams,
        querystring: CsvPart,
        response: textAnswers("The table", "text/csv", READ_REFUSALS),
      },
    },
    async ({ params, query }, reply) => {
      const { site, zone, coat } = params;
      const part = query.part ?? "conditions";
      const table = settle(desk.coatCsv(site, zone, Number(coat), part));
      const name = `${site}-${zone}-coat-${Number(coat) + 1}-${part}.csv`;
      return reply.type("text/csv; charset=utf-8").header("content-disposition", attached(name)).send(table);
    },
  );
  api.get(
    "/sites/:site/days/:day/summary",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "A day of the site by its own clock",
        params: DayParams,
        response: answers(200, "The summary", DaySummarySchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.daySummary(params.site, params.day)),
  );
  api.get(
    "/sites/:site/zones/:zone/hand-over",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "What the client may do with the floor and not before when, from the film that is really there",
        params: ZoneParams,
        response: answers(200, "The hand-over", HandOverSchema, READ_REFUSALS),
      },
    },
    async ({ params }) => settle(desk.handOver(params.site, params.zone)),
  );
  api.get(
    "/sites/:site/export.zip",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "Everything of a job in one file, with the chain that vouches for it",
        params: SiteParams,
        querystring: PdfWishQuery,
        response: textAnswers("The zip file", "application/zip", READ_REFUSALS),
      },
    },
    async ({ params, query }, reply) => {
      const job = settle(desk.exportJob(params.site, wishOf(query)));
      return reply
        .type("application/zip")
        .header("content-disposition", attached(`${params.site}-record.zip`))
        .send(Readable.from(job, { objectMode: false }));
    },
  );
}
