// Reads requests by the schemas of their routes: strictly, every fault named, nothing coerced but numbers in a query.
import type { FastifySchemaCompiler } from "fastify";
import type Type from "typebox";
import { type Checked, readerOf } from "#contract/faults.ts";
import { msFromIso } from "#contract/primitives.ts";
import { Refused } from "./refused.ts";

const PLAIN_NUMBER = /^-?\d{1,15}(\.\d{1,15})?$/;
const WHERE: Readonly<Record<string, string>> = {
  params: "in the address",
  querystring: "in the query",
  headers: "in a header",
};

/** A query is text: what the schema wants as a number is read as one if it is written as one. */
function numbersRead(schema: Type.TSchema, query: unknown): unknown {
  const properties = (schema as { properties?: Record<string, { type?: string }> }).properties ?? {};
  const read = Object.entries(query as Record<string, unknown>).map(([name, value]) => {
    const wanted = Object.hasOwn(properties, name) ? properties[name]?.type : undefined;
    const isNumber =
      (wanted === "number" || wanted === "integer") && typeof value === "string" && PLAIN_NUMBER.test(value);
    return [name, isNumber ? Number(value) : value] as const;
  });
  return Object.fromEntries(read);
}

/** For a route whose body has a reader of its own. */
export function readBodyWith(read: (value: unknown) => Checked<unknown>) {
  return (value: unknown) => {
    const checked = read(value);
    return checked.ok ? { value: checked.value } : { error: new Refused(422, "in the body", checked.faults) };
  };
}

export const compileValidator: FastifySchemaCompiler<Type.TSchema> = ({ schema, httpPart }) => {
  const read = readerOf(schema);
  if (httpPart === "body") return readBodyWith(read);
  return (value) => {
    const checked = read(httpPart === "querystring" ? numbersRead(schema, value) : value);
    return checked.ok
      ? { value: checked.value }
      : { error: new Refused(400, WHERE[httpPart ?? ""] ?? "", checked.faults) };
  };
};

/** The time of a query field in epoch ms; 31 February passes the pattern and is refused here. */
export function timeOf(field: string, iso: string): number {
  const atMs = msFromIso(iso);
  if (!Number.isNaN(atMs)) return atMs;
  throw new Refused(400, "in the query", [{ field: `/${field}`, reason: "names a day or time that does not exist" }]);
}
