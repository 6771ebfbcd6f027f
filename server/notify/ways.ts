// The ways of a contact: its mail box, its web hook, each browser that rings for it.
import type { Reach } from "./whom.ts";
import type { NotifyKeys } from "./keys.ts";
import { type MailSettings, type Mailer, createMailer } from "./mail.ts";
import type { FailingWay, KeptContact, KeptPush, Way } from "./ports.ts";
import { sendPush } from "./push.ts";
import { sendWebhook } from "./webhook.ts";

export interface WayMakerParts {
  readonly keys: NotifyKeys;
  /** Null without a mail server. */
  readonly mail: Omit<MailSettings, "publicUrl"> | null;
  readonly publicUrl: string | null;
}

const NO_MAIL = "no mail server is set (settings smtpUrl and mailFrom)";

/** What push services see as the one to write to (RFC 8292, 2.1). */
function subjectOf({ mail, publicUrl }: WayMakerParts): string {
  if (publicUrl?.startsWith("https:") === true) return publicUrl;
  return `mailto:${mail?.from ?? "nightslab@localhost"}`;
}

export function createWays(parts: WayMakerParts) {
  const { keys, publicUrl } = parts;
  const mailer: Mailer =
    parts.mail === null
      ? async () => ({ ok: false, why: NO_MAIL, again: false })
      : createMailer({ ...parts.mail, publicUrl });
  const subject = subjectOf(parts);
  return (contact: KeptContact, pushes: readonly KeptPush[]): readonly Way[] => {
    const { mail, webhook, pushLevels } = contact;
    const ways: Way[] = [];
    if (mail !== null) {
      const { address, levels } = mail;
      ways.push({ id: "mail", kind: "mail", label: address, levels, send: (letter) => mailer(address, letter) });
    }
    if (webhook !== null) {
      const { url, levels } = webhook;
      const label = URL.canParse(url) ? new URL(url).host : "web hook";
      ways.push({
        id: "webhook",
        kind: "webhook",
        label,
        levels,
        send: (letter) => sendWebhook(webhook, letter, publicUrl),
      });
    }
    for (const push of pushes.filter((one) => one.contact === contact.id)) {
      const send: Way["send"] = (letter) => sendPush(push, letter, { vapid: keys, subject });
      ways.push({ id: push.id, kind: "push", label: push.device, levels: pushLevels, send });
    }
    return ways;
  };
}

export type WaysOf = ReturnType<typeof createWays>;

/** A contact as `whom` sees it. */
export function reachOf(contact: KeptContact, ways: readonly Way[], failing: readonly FailingWay[]): Reach {
  const { id, name, sites, quiet } = contact;
  return {
    ...{ id, name, sites, quiet },
    ways: ways.map((way) => ({
      id: way.id,
      levels: way.levels,
      failing: failing.some((one) => one.contact === id && one.way === way.id),
    })),
  };
}
