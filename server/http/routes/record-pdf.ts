// The record as a document: a coat, a day of the site, and the hand-over page for the client.
import Type from "typebox";
import { Id } from "#contract/primitives.ts";
import { Day } from "#contract/record-parts.ts";
import { PdfWishQuery, wishOf } from "../pdf-wish.ts";
import { settle } from "../refused.ts";
import { type Api, type RouteParts, textAnswers, ZoneParams } from "../route-kit.ts";

const tags = ["record"];
const closed = { additionalProperties: false } as const;
const CoatParams = Type.Object(
  {
    site: Id,
    zone: Id,
    coat: Type.String({ pattern: "^[0-9]{1,2}$", description: "counted from 0, as in the journal" }),
  },
  closed,
);
const DayParams = Type.Object({ site: Id, day: Day }, closed);
const REFUSALS = [400, 404, 409] as const;
const answer = textAnswers("The document", "application/pdf", REFUSALS);

/** Shown in the browser, and kept under a name that says what it is. */
const shown = (name: string) => `inline; filename="${name}.pdf"`;

export async function recordPdfRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/zones/:zone/coats/:coat/record.pdf",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "The record of a coat as a document",
        params: CoatParams,
        querystring: PdfWishQuery,
        response: answer,
      },
    },
    async ({ params: { site, zone, coat }, query }, reply) => {
      const bytes = settle(await desk.recordPdf(site, zone, Number(coat), wishOf(query)));
      return reply
        .type("application/pdf")
        .header("content-disposition", shown(`${site}-${zone}-coat-${Number(coat) + 1}`))
        .send(Buffer.from(bytes));
    },
  );
  api.get(
    "/sites/:site/days/:day/summary.pdf",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "A day of the site as a document",
        params: DayParams,
        querystring: PdfWishQuery,
        response: answer,
      },
    },
    async ({ params: { site, day }, query }, reply) => {
      const bytes = settle(await desk.summaryPdf(site, day, wishOf(query)));
      return reply
        .type("application/pdf")
        .header("content-disposition", shown(`${site}-${day}`))
        .send(Buffer.from(bytes));
    },
  );
  api.get(
    "/sites/:site/zones/:zone/hand-over.pdf",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "The page for the client as a document",
        params: ZoneParams,
        querystring: PdfWishQuery,
        response: answer,
      },
    },
    async ({ params: { site, zone }, query }, reply) => {
      const bytes = settle(await desk.handOverPdf(site, zone, wishOf(query)));
      return reply
        .type("application/pdf")
        .header("content-disposition", shown(`${site}-${zone}-hand-over`))
        .send(Buffer.from(bytes));
    },
  );
}
