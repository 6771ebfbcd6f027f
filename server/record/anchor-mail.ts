// The head of a day by e-mail: a mail box outside is a witness that nobody at this machine can rewrite.
import type { HeadSender } from "./anchor.ts";

export interface MailAnchor {
  /** `smtp://` (STARTTLS where the server offers it) or `smtps://`, with user and password if it asks for them. */
  readonly smtpUrl: string;
  readonly from: string;
  readonly to: string;
}

const PATIENCE_MS = 10_000;

/** Rejects when the mail server did not take the letter for every address. */
export function mailSender({ smtpUrl, from, to }: MailAnchor): HeadSender {
  // A server that writes no letters starts without it.
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
  return async ({ site, day, head }) => {
    const sent = await (await transport).sendMail({
      from,
      to,
      subject: `Nightslab record of ${site}, ${day}`,
      text: `Head of the record of site "${site}" for the day ${day} (UTC):\n\n${head}\n\nKeep this letter. "npm run --silent verify -- FILE.zip --head ${head}" shows whether a record holds this day as it was.\n`,
    });
    if (sent.rejected.length > 0) throw new Error(`not taken for ${sent.rejected.map(String).join(", ")}`);
  };
}
