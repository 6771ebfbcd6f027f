// The journal of a site: reading it and adding to it. Nothing in it is ever changed.
import Type from "typebox";
import { type Checked, fail } from "#contract/faults.ts";
import { JournalEntrySchema, readEntryBody } from "#contract/journal.ts";
import { Id, IsoTime } from "#contract/primitives.ts";
import { Refused, settle } from "../refused.ts";
import { writtenBy } from "../written-by.ts";
import { type Api, answers, READ_REFUSALS, type RouteParts, SiteParams, WRITE_REFUSALS } from "../route-kit.ts";
import { compileValidator, readBodyWith, timeOf } from "../validation.ts";

const tags = ["journal"];
const JournalQuery = Type.Object(
  { zone: Type.Optional(Id), from: Type.Optional(IsoTime) },
  { additionalProperties: false },
);
const JournalAnswer = Type.Object({ entries: Type.Array(JournalEntrySchema) }, { additionalProperties: false });

/** When an entry was heard decides which past calls knew of it; only the server can say that. */
function readNewEntry(value: unknown): Checked<unknown> {
  if (typeof value === "object" && value !== null && "heardAt" in value)
    return fail("/heardAt", "is set by the server");
  return readEntryBody(value);
}

export async function journalRoutes(api: Api, { desk }: RouteParts): Promise<void> {
  api.get(
    "/sites/:site/journal",
    {
      config: { may: "read", border: "narrowed" },
      schema: {
        tags,
        summary: "Journal entries, of one zone and since a time if asked",
        params: SiteParams,
        querystring: JournalQuery,
        response: answers(200, "The entries", JournalAnswer, READ_REFUSALS),
      },
    },
    async ({ params, query, who }) => {
      const zone = who?.zone ?? query.zone ?? null;
      if (query.zone !== undefined && query.zone !== zone)
        throw new Refused(404, "", [{ field: "/zone", reason: `no zone "${query.zone}" on this site` }]);
      const fromMs = query.from === undefined ? null : timeOf("from", query.from);
      return { entries: [...settle(desk.journal(params.site, zone, fromMs)).entries] };
    },
  );

  api.post(
    "/sites/:site/journal",
    {
      config: { may: "write" },
      schema: {
        tags,
        summary: "Add an entry; sent twice with the same id it is one entry",
        params: SiteParams,
        body: JournalEntrySchema,
        response: answers(
          201,
          "The entry as it stands, with its id and when it was heard",
          JournalEntrySchema,
          WRITE_REFUSALS,
        ),
      },
      validatorCompiler: (route) => (route.httpPart === "body" ? readBodyWith(readNewEntry) : compileValidator(route)),
    },
    async (request, reply) => {
      const { params, body } = request;
      const by = writtenBy(request.who, body.by);
      request.about = `${body.did}${(body.zone ?? null) === null ? "" : `, ${String(body.zone)}`}`;
      return reply.code(201).send(settle(await desk.addEntry(params.site, { ...body, by }, by)));
    },
  );
}
