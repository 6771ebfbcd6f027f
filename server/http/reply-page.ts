// The page behind a link in a message: one button, no script. Mail programs open links by themselves, so only the button acts.
import type { FastifyInstance, FastifyReply } from "fastify";
import type { AccessDesk } from "./access-port.ts";
import type { NotifyDesk, ReplyPage } from "./notify-port.ts";
import { REPLY_WORDS } from "./reply-words.ts";

const PATH = "/api/reply";
const LIMIT = { rateLimit: { max: 60, timeWindow: 60_000 } } as const;

const STYLE = `:root { color-scheme: light dark; font: 1.125rem/1.5 system-ui, sans-serif; }
body { margin: 0 auto; padding: 1.5rem; max-width: 34rem; background: #f6f4ef; color: #17202a; }
h1 { font-size: 1.5rem; line-height: 1.25; }
button { font: inherit; font-weight: 700; width: 100%; min-height: 4rem; border: 0; border-radius: .5rem; background: #12506b; color: #fff; }
button:focus-visible, a:focus-visible { outline: 3px solid currentColor; outline-offset: 3px; }
a { color: inherit; display: inline-block; min-height: 3.5rem; line-height: 3.5rem; }
p.said { font-weight: 700; }
@media (prefers-color-scheme: dark) {
  body { background: #14181b; color: #ece6da; }
  button { background: #e9c46a; color: #17202a; }
}
`;

const SIGNS: Readonly<Record<string, string>> = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "'": "&#39;" };
const plain = (text: string) => text.replace(/[&<>"']/g, (sign) => SIGNS[sign] ?? "");

function frame(language: string, title: string, body: string): string {
  return `<!doctype html>
<html lang="${language}">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<meta name="robots" content="noindex">
<title>${plain(title)}</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="${PATH}/page.css">
<main>
${body}
</main>
</html>
`;
}

/** Names and sentences come from people: all of it is written as text. */
export function replyHtml(page: ReplyPage, token: string): string {
  if (page.state === "expired") {
    const said = (["en", "es"] as const)
      .map(
        (language) => `<p lang="${language}" class="said">${REPLY_WORDS[language].expired}</p>
<p lang="${language}"><a href="/">${REPLY_WORDS[language].home}</a></p>`,
      )
      .join("\n");
    return frame("en", "Nightslab", said);
  }
  const words = REPLY_WORDS[page.language];
  const answer =
    page.state === "open"
      ? `<p>${words.ask}</p>
<form method="post" action="${PATH}/${plain(token)}"><button type="submit">${words.button}</button></form>`
      : `<p class="said" role="status">${plain(words.done(page.by))}</p>`;
  return frame(
    page.language,
    page.title,
    `<h1>${plain(page.title)}</h1>
<p>${plain(page.body)}</p>
${answer}
<p><a href="${plain(page.path)}">${words.look}</a></p>`,
  );
}

/** It needs no session: the token is the right to answer one alarm, once. */
export function registerReplyPage(app: FastifyInstance, notify: NotifyDesk, access: AccessDesk | null): void {
  const send = (reply: FastifyReply, page: ReplyPage, token: string) =>
    reply
      .code(page.state === "expired" ? 410 : 200)
      .type("text/html; charset=utf-8")
      .header("cache-control", "no-store")
      // Nobody else learns the address; the button must still say from which page it comes.
      .header("referrer-policy", "same-origin")
      .send(replyHtml(page, token));

  app.get(`${PATH}/page.css`, async (_request, reply) =>
    reply.type("text/css; charset=utf-8").header("cache-control", "public, max-age=3600").send(STYLE),
  );
  app.get<{ Params: { token: string } }>(`${PATH}/:token`, async ({ params }, reply) =>
    send(reply, notify.reply(params.token), params.token),
  );
  app.register(async (form) => {
    // A button sends an empty form.
    form.addContentTypeParser("application/x-www-form-urlencoded", { bodyLimit: 1024 }, (_request, payload, done) => {
      payload.resume();
      payload.on("end", () => done(null, null));
    });
    form.post<{ Params: { token: string } }>(`${PATH}/:token`, { config: LIMIT }, async ({ params, ip }, reply) => {
      const before = notify.reply(params.token);
      const page = notify.answerReply(params.token);
      if (before.state === "open" && page.state === "done" && access !== null) {
        const about = before.title.slice(0, 500);
        access.note({ who: page.by, role: null, did: "POST /reply", site: null, about, address: ip });
      }
      return send(reply, page, params.token);
    });
  });
}
