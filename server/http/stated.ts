// Every route states who may: one that does not is refused when the server is built, not found out when it is asked.
import type { FastifyInstance } from "fastify";
import { MAY, type May } from "#contract/access.ts";

export interface StatedRoute {
  readonly method: string;
  /** As the server knows it: `/api/v1/sites/:site`. */
  readonly url: string;
  readonly may: May;
}

declare module "fastify" {
  interface FastifyInstance {
    /** Every route with the word that it states. */
    statedRoutes(): readonly StatedRoute[];
  }
}

/** Listens to the routes below `prefix` as they are added; the server can tell what each states. */
export function demandStatements(app: FastifyInstance, prefix: string): void {
  const routes: StatedRoute[] = [];
  app.addHook("onRoute", ({ method, url, config }) => {
    if (!url.startsWith(prefix)) return;
    const may = config?.may;
    if (may === undefined || !Object.hasOwn(MAY, may))
      throw new Error(`${String(method)} ${url} does not state who may (config: { may: ... })`);
    for (const one of [method].flat()) routes.push({ method: one, url, may });
  });
  app.decorate("statedRoutes", () => routes);
}
