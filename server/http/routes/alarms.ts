// Alarms of a site: the list, and answering one.
import Type from "typebox";
import { ALARM_STATES, AlarmSchema } from "#contract/alarm.ts";
import { Id, IsoTime, msFromIso, Name } from "#contract/primitives.ts";
import { Refused, settle } from "../refused.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, SiteParams, WRITE_REFUSALS } from "../route-kit.ts";
import { timeOf } from "../validation.ts";
import { writtenBy } from "../written-by.ts";

const tags = ["alarms"];
const closed = { additionalProperties: false } as const;
const PAGE = 100;

const AlarmParams = Type.Object({ site: Id, alarm: Id }, closed);
const AlarmQuery = Type.Object(
  {
    state: Type.Optional(Type.Enum([...ALARM_STATES])),
    from: Type.Optional(IsoTime),
    before: Type.Optional(Id),
    limit: Type.Optional(Type.Integer({ minimum: 1, maximum: 500 })),
  },
  closed,
);
const AlarmPage = Type.Object(
  { alarms: Type.Array(AlarmSchema), before: Type.Union([Id, Type.Null()], { description: "asks for the next page" }) },
  closed,
);
const By = Type.Optional(Type.Union([Name, Type.Null()]));
const Acknowledging = Type.Object({ by: By }, closed);
const Snoozing = Type.Object({ untilAt: IsoTime, by: By }, closed);

export async function alarmRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/alarms",
    {
      config: { may: "read" },
      schema: {
        tags,
        summary: "Alarms, newest first: of one state, and raised since a time, if asked",
        params: SiteParams,
        querystring: AlarmQuery,
        response: answers(200, "A page of alarms", AlarmPage, READ_REFUSALS),
      },
    },
    async ({ params, query }) => {
      const page = settle(
        desk.alarms(params.site, {
          state: query.state ?? null,
          fromMs: query.from === undefined ? null : timeOf("from", query.from),
          before: query.before ?? null,
          limit: query.limit ?? PAGE,
        }),
      );
      return { alarms: [...page.alarms], before: page.before };
    },
  );

  api.post(
    "/sites/:site/alarms/:alarm/acknowledge",
    {
      config: { may: "write" },
      schema: {
        tags,
        summary: "Somebody has seen it and sees to it",
        params: AlarmParams,
        body: Acknowledging,
        response: answers(200, "The alarm as it stands", AlarmSchema, WRITE_REFUSALS),
      },
    },
    async (request) => {
      const { params, body } = request;
      request.about = `alarm ${params.alarm}`;
      return settle(desk.acknowledgeAlarm(params.site, params.alarm, writtenBy(request.who, body.by)));
    },
  );

  api.post(
    "/sites/:site/alarms/:alarm/snooze",
    {
      config: { may: "write" },
      schema: {
        tags,
        summary: "Not again before this time, unless it gets worse; at most 12 hours ahead",
        params: AlarmParams,
        body: Snoozing,
        response: answers(200, "The alarm as it stands", AlarmSchema, WRITE_REFUSALS),
      },
    },
    async (request) => {
      const { params, body } = request;
      request.about = `alarm ${params.alarm}, until ${body.untilAt}`;
      const untilMs = msFromIso(body.untilAt);
      if (Number.isNaN(untilMs))
        throw new Refused(422, "in the body", [
          { field: "/untilAt", reason: "names a day or time that does not exist" },
        ]);
      return settle(desk.snoozeAlarm(params.site, params.alarm, writtenBy(request.who, body.by), untilMs));
    },
  );
}
