// What charts are drawn from: past series of a zone and its night ahead.
import Type from "typebox";
import { SeriesSchema } from "#contract/board.ts";
import { OutlookSchema } from "#contract/outlook.ts";
import { IsoTime } from "#contract/primitives.ts";
import { Refused, settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, ZoneParams } from "../route-kit.ts";
import { timeOf } from "../validation.ts";

const tags = ["zones"];
/** More points than this a chart cannot show, and a phone cannot draw in time. */
const MOST_POINTS = 500;
const SeriesQuery = Type.Object(
  {
    from: IsoTime,
    to: IsoTime,
    points: Type.Optional(Type.Integer({ minimum: 1, maximum: MOST_POINTS, default: MOST_POINTS })),
  },
  { additionalProperties: false },
);

export async function chartRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/zones/:zone/series",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "Smallest, mean and largest value of every quantity per step; gaps stay gaps",
        description:
          "Every reading counts in one step. Steps of an hour or longer meet at the next whole quarter of an hour (UTC), of six hours or longer at the next whole hour; the first begins and the last ends as asked.",
        params: ZoneParams,
        querystring: SeriesQuery,
        response: answers(200, "The series", SeriesSchema, READ_REFUSALS),
      },
    },
    async ({ params, query }) => {
      const fromMs = timeOf("from", query.from);
      const toMs = timeOf("to", query.to);
      if (toMs <= fromMs) throw new Refused(400, "in the query", [{ field: "/to", reason: "must lie after from" }]);
      return settle(await desk.series(params.site, params.zone, fromMs, toMs, query.points ?? MOST_POINTS));
    },
  );

  api.get(
    "/sites/:site/zones/:zone/outlook",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "The night ahead of a zone; null while too little has been heard",
        params: ZoneParams,
        response: answers(200, "The outlook", Type.Union([OutlookSchema, Type.Null()]), READ_REFUSALS),
      },
    },
    async ({ params }, reply) => {
      const outlook = settle(desk.outlook(params.site, params.zone));
      // null is an answer here, and without a serializer of its own it would be sent as an empty body.
      return reply.type("application/json; charset=utf-8").serializer(JSON.stringify).send(outlook);
    },
  );
}
