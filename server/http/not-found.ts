// The answer to an address without a route: a wrong method, a page of the dashboard, or nothing.
import type { FastifyInstance, FastifyReply, FastifyRequest } from "fastify";
import { Refused } from "./refused.ts";

/** A page for an address outside the API; null when none stands there. */
export type PageFor = (
  request: FastifyRequest,
  reply: FastifyReply,
  path: string,
) => FastifyReply | Promise<FastifyReply> | null;

/** Listens to the routes below `prefix` as they are added; gives the methods that an address takes. */
export function methodBook(app: FastifyInstance, prefix: string): (path: string) => readonly string[] {
  const routes: { readonly methods: readonly string[]; readonly path: RegExp }[] = [];
  app.addHook("onRoute", ({ method, url }) => {
    if (!url.startsWith(prefix)) return;
    const path = url.replaceAll(".", "\\.").replace(/:[^/]+/g, "[^/]+");
    routes.push({ methods: [method].flat(), path: new RegExp(`^${path}$`) });
  });
  return (path) => routes.filter((route) => route.path.test(path)).flatMap((route) => route.methods);
}

export function notFound(methodsOf: (path: string) => readonly string[], pageFor: PageFor) {
  return (request: FastifyRequest, reply: FastifyReply): FastifyReply | Promise<FastifyReply> => {
    const path = request.url.split("?")[0] ?? "/";
    const methods = methodsOf(path).join(", ");
    if (methods !== "") {
      reply.header("allow", methods);
      throw new Refused(405, `${request.method} is not taken here; ${methods} is.`);
    }
    const isApi = path === "/api" || path.startsWith("/api/");
    const page = isApi ? null : pageFor(request, reply, path);
    if (page === null) throw new Refused(404, `Nothing stands under ${path.slice(0, 200)}.`);
    return page;
  };
}
