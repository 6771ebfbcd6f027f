// The first picture: the board drawn into the page by the server, for whoever may see it, while the program is on its way.
import { createHash } from "node:crypto";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import type { FastifyInstance, FastifyRequest } from "fastify";
import type { AccessBody } from "#contract/access.ts";
import type { BoardBody } from "#contract/board.ts";
import type { SiteBody } from "#contract/zone.ts";

/** What the built dashboard brings to draw with: `drawn/first-picture.js`. */
interface Draws {
  drawn(picture: {
    readonly prefs: Look;
    readonly access: AccessBody;
    readonly sites: readonly SiteBody[];
    readonly board: BoardBody;
    readonly stripPx: number;
  }): { readonly page: string; readonly late: string };
}

/** As a person's device is set; it says so in a cookie, and before its first visit by the languages it asks for. */
export interface Look {
  readonly language: "en" | "es";
  readonly units: "us" | "si";
  readonly hours: "auto" | "12" | "24";
}

const PLACE = '<div id="root"></div>';
const END = "</body>";
/** A board of more zones does not stand in the page: it would make the page itself wait. Of its rows the first are drawn. */
const MOST_ZONES = 24;
/** No more rows of a long board are drawn. */
const DRAWN_ROWS = 4;
const STRIP_PX = { phone: 328, else: 640 };
const LOOK = /^(en|es)~(us|si)~(auto|12|24)~(\d{2,4})?~([^~]{0,300})$/;

/** As the dashboard takes it from the browser where nobody has chosen yet: the first language that is asked for. */
function lookOfLanguages(header: string): Look {
  const first = header.split(/[,;]/)[0]?.trim().toLowerCase() ?? "";
  return {
    language: first.startsWith("es") ? "es" : "en",
    units: /^en$|-us$/.test(first) ? "us" : "si",
    hours: "auto",
  };
}

interface Wish {
  readonly look: Look;
  readonly stripPx: number;
  /** The site it looked at last; null where it has not said. */
  readonly site: string | null;
}

export function wishOf({ cookies, headers }: Pick<FastifyRequest, "cookies" | "headers">): Wish {
  const phone = /mobi/i.test(headers["user-agent"] ?? "");
  const usualPx = phone ? STRIP_PX.phone : STRIP_PX.else;
  const [, language, units, hours, stripPx, site = ""] = LOOK.exec(cookies["nightslab-look"] ?? "") ?? [];
  if (language === undefined)
    return { look: lookOfLanguages(headers["accept-language"] ?? ""), stripPx: usualPx, site: null };
  return {
    look: { language, units, hours } as Look,
    stripPx: stripPx === undefined ? usualPx : Math.max(40, Number(stripPx)),
    site: site === "" ? null : site,
  };
}

const SIGNS: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };
const escaped = (text: string): string => text.replace(/[&<>"]/g, (sign) => SIGNS[sign] ?? "");

/** JSON inside of a page: nothing in it can end the element that it stands in. */
const knownInPage = (value: unknown): string =>
  `<script type="application/json" id="known">${JSON.stringify(value).replaceAll("<", "\\u003c")}</script>`;

/** The API's own answer to whoever asks for the page; null where it is a refusal. */
async function told<T>(app: FastifyInstance, request: FastifyRequest, path: string): Promise<T | null> {
  const { "accept-encoding": _packed, "if-none-match": _known, ...headers } = request.headers;
  const answer = await app.inject({
    ...{ method: "GET", url: path, remoteAddress: request.socket.remoteAddress ?? "127.0.0.1" },
    headers: { ...headers, accept: "application/json" },
  });
  return answer.statusCode === 200 ? answer.json<T>() : null;
}

interface Page {
  readonly html: string;
  /** What stands in it is let in by its hash, and nothing else: parts of a policy. */
  readonly policy: string;
}

/**
 * The built page with its style and its first script inside: on a thin line to fetch them costs as much as all else before
 * the picture. The program itself is fetched as ever.
 */
function withinOne(dashboardDir: string): Page {
  let html = readFileSync(join(dashboardDir, "index.html"), "utf8");
  const take = (tag: RegExp, made: (text: string, marks: string) => string): string => {
    const [whole, address, marks = ""] = tag.exec(html) ?? [];
    if (whole === undefined || address === undefined) throw new Error(`index.html has no ${tag}`);
    const text = readFileSync(join(dashboardDir, address), "utf8").trim();
    html = html.replace(whole, () => made(text, marks));
    return `'sha256-${createHash("sha256").update(text).digest("base64")}'`;
  };
  const style = take(/<link rel="stylesheet" crossorigin href="([^"]+)">/, (text) => `<style>${text}</style>`);
  const script = take(/<script src="([^"]+)"( [^>]*)><\/script>/, (text, marks) => `<script${marks}>${text}</script>`);
  for (const place of [PLACE, END]) if (!html.includes(place)) throw new Error(`index.html has no ${place}`);
  return { html, policy: `script-src 'self' ${script};style-src 'self' ${style}` };
}

export interface FirstPictures {
  readonly policy: string;
  /** The page with its board, or of a long one with the first of it; null where there is none for whoever asks. */
  of(request: FastifyRequest): Promise<string | null>;
}

export interface PictureParts {
  readonly dashboardDir: string;
  /** The address that the API begins with. */
  readonly api: string;
  /** How many zones a site has; 0 for one that is not there. */
  readonly zonesOf: (site: string) => number;
  /** The board as it stands, the past in so many zones, for whoever may see all of it; null for a site that is not there. */
  readonly boardOf: (site: string, withPast: number) => Promise<BoardBody | null>;
  /** A server that is busy hands out the page without after so long: the program asks by itself. */
  readonly patienceMs: number;
}

/** null where the dashboard was built without. */
export function firstPictures(
  app: FastifyInstance,
  { dashboardDir, api, zonesOf, boardOf, patienceMs }: PictureParts,
): FirstPictures | null {
  const program = join(dashboardDir, "drawn", "first-picture.js");
  if (!existsSync(program)) return null;
  const { html, policy } = withinOne(dashboardDir);
  let draws: Promise<Draws> | null = null;

  const drawFor = async (request: FastifyRequest): Promise<string | null> => {
    const wish = wishOf(request);
    const access = await told<AccessBody>(app, request, `${api}/access`);
    if (access === null || (access.accounts === "on" && (access.who === null || access.who.role === "client")))
      return null;
    const sites = await told<readonly SiteBody[]>(app, request, `${api}/sites`);
    const site = sites?.find(({ id }) => id === wish.site) ?? (sites?.length === 1 ? sites[0] : undefined);
    if (site === undefined) return null;
    // To write a long board out and read it again would take longer than the page is worth. The gate has let in whoever asks
    // by the answers before, and for one who is bound to a zone it is not long.
    const isLong = (access.who?.zone ?? null) === null && zonesOf(site.id) > MOST_ZONES;
    const board = isLong
      ? await boardOf(site.id, DRAWN_ROWS)
      : await told<BoardBody>(app, request, `${api}/sites/${encodeURIComponent(site.id)}/board`);
    if (board === null || sites === null) return null;
    // Loaded when somebody looks: a server that nobody looks at carries nothing of it.
    draws ??= import(pathToFileURL(program).href) as Promise<Draws>;
    const { page: picture, late } = (await draws).drawn({
      ...{ prefs: wish.look, access, sites, board, stripPx: wish.stripPx },
    });
    const marks = Object.entries({
      look: Object.values(wish.look).join("~"),
      who: JSON.stringify(access.who),
      site: site.id,
      name: site.name ?? site.id,
    }).map(([name, value]) => `data-${name}="${escaped(value)}"`);
    return html
      .replace(
        PLACE,
        () =>
          `<div id="root"><div id="drawn" ${marks.join(" ")} hidden>${picture}</div><template>${late}</template></div>`,
      )
      .replace(END, () => `  ${knownInPage({ access, sites, site: site.id, board: isLong ? null : board })}\n  ${END}`);
  };

  return {
    policy,
    async of(request) {
      let timer: NodeJS.Timeout | undefined;
      const patience = new Promise<null>((resolve) => {
        timer = setTimeout(resolve, patienceMs, null);
      });
      try {
        return await Promise.race([drawFor(request), patience]);
      } catch (cause) {
        request.log.error({ requestId: request.id, err: cause }, "the first picture could not be drawn");
        return null;
      } finally {
        clearTimeout(timer);
      }
    },
  };
}
