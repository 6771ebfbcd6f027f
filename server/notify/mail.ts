// Letters through the mail server of the settings.
import { createHash } from "node:crypto";
import type { Letter, Sent } from "./ports.ts";
import { wordsOf } from "./words.ts";

export interface MailSettings {
  /** `smtp://` (STARTTLS where the server offers it) or `smtps://`, with user and password if it asks for them. */
  readonly smtpUrl: string;
  readonly from: string;
  /** Where this server is reached; links need it. */
  readonly publicUrl: string | null;
}

const PATIENCE_MS = 10_000;

/** The same letter has the same number, so that a mail program shows it once if it comes twice. */
export function messageId(key: string, from: string): string {
  return `<${createHash("sha256").update(key).digest("hex").slice(0, 32)}@${from.split("@")[1] ?? "nightslab.invalid"}>`;
}

export function letterText({ title, body, language, open, acknowledge }: Letter, publicUrl: string | null): string {
  const words = wordsOf(language);
  const link = (what: string, path: string | null) =>
    publicUrl === null || path === null ? [] : [`${what}\n${publicUrl}${path}`];
  return [
    title,
    body,
    ...link(words.acknowledgeLink, acknowledge),
    ...link(words.openLink, open),
    `-- \n${words.footer}`,
  ].join("\n\n");
}

/** What the mail server said, without the name and password that go to it. */
function refusalOf(error: unknown): Extract<Sent, { ok: false }> {
  const { code, responseCode, response, message } = error as Error & {
    readonly code?: string;
    readonly responseCode?: number;
    readonly response?: string;
  };
  if (code === "EAUTH") return { ok: false, why: "the mail server refused name or password", again: true };
  const why = (response ?? code ?? message).slice(0, 200);
  // A 5xx of the envelope is final (RFC 5321, 4.2.1); connections that fail are not.
  const isFinal = responseCode !== undefined && responseCode >= 500 && responseCode !== 535 && code === "EENVELOPE";
  return { ok: false, why, again: !isFinal };
}

export type Mailer = (to: string, letter: Letter) => Promise<Sent>;

export function createMailer({ smtpUrl, from, publicUrl }: MailSettings): Mailer {
  // A server that writes no letters starts without; one that does loads it now, not when an alarm waits for it.
  const transport = import("nodemailer").then(({ createTransport }) =>
    createTransport({
      url: smtpUrl,
      connectionTimeout: PATIENCE_MS,
      greetingTimeout: PATIENCE_MS,
      socketTimeout: PATIENCE_MS,
      // Nothing of a letter comes from files or addresses.
      disableFileAccess: true,
      disableUrlAccess: true,
    }),
  );
  return async (to, letter) => {
    const thread = messageId(letter.thread, from);
    try {
      await (await transport).sendMail({
        from: { name: "Nightslab", address: from },
        to,
        subject: letter.title.replace(/\s+/g, " "),
        text: letterText(letter, publicUrl),
        messageId: messageId(letter.key, from),
        inReplyTo: thread,
        references: thread,
        ...(letter.level === "wake" ? { priority: "high" as const } : {}),
        // RFC 3834: so that no absence note answers.
        headers: { "Auto-Submitted": "auto-generated" },
      });
      return { ok: true };
    } catch (error) {
      return refusalOf(error);
    }
  };
}
