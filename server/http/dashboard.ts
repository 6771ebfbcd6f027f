// The dashboard's files: the page for every address that is not the API's, and what it loads.
import { existsSync } from "node:fs";
import { join, sep } from "node:path";
import fastifyStatic from "@fastify/static";
import type { FastifyInstance, FastifyRequest } from "fastify";
import { firstPictures, type PictureParts } from "./first-picture.ts";
import type { PageFor } from "./not-found.ts";
import { smaller } from "./smaller.ts";

const NOT_BUILT = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<title>Nightslab</title>
<h1>The dashboard is not built</h1>
<p>The server runs and judges. To see it here, run <code>npm run build</code> in the project's folder and start the server again.</p>
<p>What programs can ask of it stands in <a href="/api/v1/openapi.json">/api/v1/openapi.json</a>.</p>
</html>
`;

/** Files that the build names by their content can be kept for ever; the page that names them cannot. */
function cacheControl(path: string): string {
  return path.includes(`${sep}assets${sep}`) ? "public, max-age=31536000, immutable" : "no-cache";
}

/** True for an address that a page of the dashboard may have: it reads, and names no file. */
function isPage(request: FastifyRequest, path: string): boolean {
  return (request.method === "GET" || request.method === "HEAD") && !(path.split("/").at(-1) ?? "").includes(".");
}

/** Programs that fetch the page to keep it ask for anything; whoever wants to look asks for a page. */
function wantsToLook({ method, headers }: FastifyRequest): boolean {
  return method === "GET" && (headers.accept ?? "").includes("text/html");
}

/** Serves the dashboard. What comes back answers an address that is no file, or says that it is none of its own. */
export async function registerDashboard(
  app: FastifyInstance,
  dashboardDir: string | null,
  parts: Omit<PictureParts, "dashboardDir">,
): Promise<PageFor> {
  if (dashboardDir === null || !existsSync(join(dashboardDir, "index.html"))) {
    return (request, reply, path) =>
      isPage(request, path) ? reply.code(503).type("text/html; charset=utf-8").send(NOT_BUILT) : null;
  }
  await app.register(fastifyStatic, {
    root: dashboardDir,
    dotfiles: "ignore",
    // The page itself is handed out below, with what stands on it.
    index: false,
    cacheControl: false,
    // The build leaves every text beside itself, made small.
    preCompressed: true,
    setHeaders: (reply, path) => void reply.header("cache-control", cacheControl(path)),
  });
  const pictures = firstPictures(app, { dashboardDir, ...parts });
  const pageFor: PageFor = (request, reply, path) => {
    if (!isPage(request, path)) return null;
    reply.code(200).header("vary", "accept, cookie, accept-language");
    if (pictures === null || path !== "/" || !wantsToLook(request)) return reply.sendFile("index.html");
    return pictures.of(request).then((page) => {
      if (page === null) return reply.sendFile("index.html");
      // Of this moment and for this person: no store may keep it.
      return reply
        .type("text/html; charset=utf-8")
        .header("cache-control", "no-store")
        .header("content-security-policy", `${String(reply.getHeader("content-security-policy"))};${pictures.policy}`)
        .send(page);
    });
  };
  app.get("/", { onSend: smaller }, (request, reply) => pageFor(request, reply, "/"));
  return pageFor;
}
