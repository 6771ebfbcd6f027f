// The OpenAPI 3.1 document, written by the routes themselves.
import swagger from "@fastify/swagger";
import type { FastifyInstance } from "fastify";
import Type from "typebox";
import {
  BoardSchema,
  BoardZoneSchema,
  NodeStateSchema,
  SeriesSchema,
  SpotCheckSchema,
  ZonePageSchema,
} from "#contract/board.ts";
import { CallSchema } from "#contract/call.ts";
import { HealthSchema } from "#contract/health.ts";
import { JournalEntrySchema } from "#contract/journal.ts";
import { NightFileSchema } from "#contract/night-file.ts";
import { OutlookSchema } from "#contract/outlook.ts";
import { ProblemSchema } from "#contract/problem.ts";
import { SheetSchema } from "#contract/sheet.ts";
import { STREAM_EVENTS } from "#contract/stream.ts";
import { NodeSchema, SiteSchema, ZoneSchema } from "#contract/zone.ts";
import { type Api, answers } from "./route-kit.ts";

type Json = null | boolean | number | string | readonly Json[] | { readonly [key: string]: Json };

/** Schemas that the document shows once, under their names. */
const NAMED: Readonly<Record<string, Type.TSchema>> = {
  Board: BoardSchema,
  BoardZone: BoardZoneSchema,
  Call: CallSchema,
  Health: HealthSchema,
  JournalEntry: JournalEntrySchema,
  NightFile: NightFileSchema,
  Node: NodeSchema,
  NodeState: NodeStateSchema,
  Outlook: OutlookSchema,
  Problem: ProblemSchema,
  Series: SeriesSchema,
  Sheet: SheetSchema,
  Site: SiteSchema,
  SpotCheck: SpotCheckSchema,
  Zone: ZoneSchema,
  ZonePage: ZonePageSchema,
  ...Object.fromEntries(Object.entries(STREAM_EVENTS).map(([event, schema]) => [`stream.${event}`, schema])),
};

/** Dialect 2020-12, which OpenAPI 3.1 speaks: tuples stand under `prefixItems`, maps under `additionalProperties`. */
function inDialect(node: Json): Json {
  if (Array.isArray(node)) return node.map(inDialect);
  if (typeof node !== "object" || node === null) return node;
  const entries = Object.entries(node).map(([key, value]) => [key, inDialect(value)] as const);
  const out: Record<string, Json> = Object.fromEntries(entries);
  if (Array.isArray(out.items)) {
    const { items, additionalItems, ...rest } = out;
    return { ...rest, prefixItems: items, items: additionalItems ?? true } as Json;
  }
  if (out.type === "object" && out.patternProperties !== undefined) {
    const { patternProperties, ...rest } = out;
    return { ...rest, additionalProperties: Object.values(patternProperties as object)[0] as Json };
  }
  return out;
}

function plain(value: unknown): Json {
  return JSON.parse(JSON.stringify(value)) as Json;
}

/** Puts a reference wherever a named schema stands written out. `own` is the name that is being written out itself. */
function withReferences(node: Json, names: ReadonlyMap<string, string>, own?: string): Json {
  if (Array.isArray(node)) return node.map((item) => withReferences(item, names));
  if (typeof node !== "object" || node === null) return node;
  const name = names.get(JSON.stringify(node));
  if (name !== undefined && name !== own) return { $ref: `#/components/schemas/${name}` };
  return Object.fromEntries(Object.entries(node).map(([key, value]) => [key, withReferences(value, names)]));
}

function finished(generated: Json): Json {
  const written = Object.entries(NAMED).map(([name, schema]) => [name, inDialect(plain(schema))] as const);
  const names = new Map<string, string>();
  // Of two names for one schema the first stands; the second refers to it.
  for (const [name, schema] of written) if (!names.has(JSON.stringify(schema))) names.set(JSON.stringify(schema), name);
  const schemas = Object.fromEntries(written.map(([name, schema]) => [name, withReferences(schema, names, name)]));
  const document = withReferences(inDialect(generated), names) as { readonly [key: string]: Json };
  return { ...document, components: { schemas } };
}

/** Before the routes: listens to them as they are added. */
export async function registerDocument(app: FastifyInstance): Promise<void> {
  await app.register(swagger, {
    convertConstToEnum: false,
    openapi: {
      openapi: "3.1.1",
      info: {
        title: "Nightslab",
        version: "1",
        description:
          "Judges resin floors on cold slabs, zone by zone. Limits come from the sheets that a person entered; the product's own safety sheet and local code stand above every call.",
      },
    },
  });
}

export async function documentRoutes(api: Api): Promise<void> {
  let document: Json = null;
  api.get(
    "/openapi.json",
    {
      config: { may: "anyone", border: "none" },
      schema: {
        tags: ["server"],
        summary: "This document",
        response: answers(200, "OpenAPI 3.1", Type.Object({}), []),
      },
    },
    async () => {
      document ??= finished(plain(api.swagger()));
      return document as object;
    },
  );
}
