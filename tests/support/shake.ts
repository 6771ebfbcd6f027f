// Shakes operations of the document with random requests, and holds every answer to what the document says of it.
import { Compile } from "typebox/compile";
import type Type from "typebox";
import { expect } from "vitest";
import { type ApiDocument, operationsOf } from "./api-document.ts";
import { pick, seeded, valueFor } from "./from-schema.ts";

export interface Shaking {
  readonly document: ApiDocument;
  readonly words: readonly string[];
  /** What parts of paths mostly are. */
  readonly known: (random: () => number) => Readonly<Record<string, string>>;
  /** How often an operation is asked; 0 leaves it out. */
  readonly rounds: (name: string) => number;
  readonly ask: (
    method: string,
    url: string,
    body: string | undefined,
  ) => Promise<{ readonly status: number; readonly type: string; readonly body: string }>;
}

/** Which statuses each operation gave. */
export async function shake({ document, words, known, rounds, ask }: Shaking): Promise<Map<string, Set<number>>> {
  const random = seeded(20260203);
  const validators = new Map<object, ReturnType<typeof Compile>>();
  const fits = (schema: object, value: unknown) => {
    const validator = validators.get(schema) ?? Compile(schema as Type.TSchema);
    validators.set(schema, validator);
    return validator.Check(value);
  };
  const seen = new Map<string, Set<number>>();
  for (const { method, path, operation } of operationsOf(document)) {
    const name = `${method} ${path}`;
    for (let round = 0; round < rounds(name); round += 1) {
      const junk = pick(random, [0, 0, 0.03, 0.3]);
      const text = (schema: object) =>
        encodeURIComponent(String(valueFor(schema as Record<string, unknown>, random, words, junk)).slice(0, 90));
      const parameters = operation.parameters ?? [];
      // An empty part of a path would be another address.
      const url = path.replace(
        /\{(\w+)\}/g,
        (_, part: string) =>
          (random() < 0.8 ? known(random)[part] : undefined) ??
          (text(parameters.find((of) => of.name === part)?.schema ?? {}) || "-"),
      );
      const query = parameters
        .filter((of) => of.in === "query" && (of.required === true || random() < 0.5))
        .map((of) => `${of.name}=${text(of.schema)}`);
      const schema = operation.requestBody?.content["application/json"]?.schema;
      const body = schema === undefined ? undefined : JSON.stringify(valueFor(schema, random, words, junk));
      const asked = `${method} ${url}?${query.join("&")} ${body ?? ""}`.slice(0, 600);
      const answer = await ask(method, `${url}?${query.join("&")}`, body);
      expect(answer.status, `${asked}: ${answer.body.slice(0, 400)}`).toBeLessThan(500);
      const said = operation.responses[answer.status];
      expect(said, `${answer.status} is not documented: ${asked}`).toBeDefined();
      const [mediaType, media] = Object.entries(said?.content ?? {})[0] ?? [];
      if (mediaType === undefined || media === undefined) expect(answer.body, asked).toBe("");
      else {
        expect(answer.type, asked).toContain(mediaType);
        if (mediaType.endsWith("json"))
          expect(fits(media.schema, JSON.parse(answer.body)), `${asked}: ${answer.body.slice(0, 400)}`).toBe(true);
      }
      seen.set(name, (seen.get(name) ?? new Set()).add(answer.status));
    }
  }
  return seen;
}
