// Reads the OpenAPI document for tests: its operations, and its schemas with every reference followed.
import type { JsonSchema } from "./from-schema.ts";

interface Media {
  readonly schema: JsonSchema;
}
export interface Operation {
  readonly summary: string;
  readonly tags: readonly string[];
  readonly parameters?: readonly {
    readonly in: string;
    readonly name: string;
    readonly required?: boolean;
    readonly schema: JsonSchema;
  }[];
  readonly requestBody?: { readonly required: boolean; readonly content: Readonly<Record<string, Media>> };
  readonly responses: Readonly<
    Record<string, { readonly description: string; readonly content?: Readonly<Record<string, Media>> }>
  >;
}
export interface ApiDocument {
  readonly openapi: string;
  readonly info: { readonly title: string; readonly version: string };
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, JsonSchema>> };
}

export function operationsOf(
  document: ApiDocument,
): { readonly method: string; readonly path: string; readonly operation: Operation }[] {
  return Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ method: method.toUpperCase(), path, operation })),
  );
}

/** Every `$ref` below a node. */
export function referencesIn(node: unknown): string[] {
  if (typeof node !== "object" || node === null) return [];
  const own = "$ref" in node && typeof node.$ref === "string" ? [node.$ref] : [];
  return [...own, ...Object.values(node).flatMap(referencesIn)];
}

/** What a local reference points at (a JSON Pointer, RFC 6901). */
export function target(document: ApiDocument, reference: string): unknown {
  const steps = reference
    .replace(/^#\//, "")
    .split("/")
    .map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"));
  return steps.reduce<unknown>((node, step) => (node as Record<string, unknown> | undefined)?.[step], document);
}

/** The node with every reference in it replaced by what it points at. */
export function followed<T>(document: ApiDocument, node: T): T {
  if (Array.isArray(node)) return node.map((item: unknown) => followed(document, item)) as T;
  if (typeof node !== "object" || node === null) return node;
  if ("$ref" in node) return followed(document, target(document, String(node.$ref))) as T;
  return Object.fromEntries(
    Object.entries(node).map(([key, value]) => [key, followed(document, value as unknown)]),
  ) as T;
}
