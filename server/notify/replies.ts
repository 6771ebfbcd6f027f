// Links in messages: each acknowledges one alarm, once, within twelve hours, and only when somebody presses the button.
import type { AlarmBook, KeptContact, KeptDelivery, NotifyStore, Sentence } from "./ports.ts";
import { isToken, type NotifyKeys, replyToken, seqOfToken } from "./keys.ts";
import { openPath } from "./letters.ts";

export const REPLY_LASTS_MS = 12 * 3_600_000;
export const REPLY_PATH = "/api/reply/";

export type ReplyPage =
  | { readonly state: "expired" }
  | ({
      readonly state: "open" | "done";
      readonly language: "en" | "es";
      readonly by: string | null;
      readonly path: string;
    } & Sentence);

interface RepliesParts {
  readonly store: NotifyStore;
  readonly keys: NotifyKeys;
  readonly book: AlarmBook;
  readonly contact: (id: string) => KeptContact | null;
  readonly now: () => number;
}

const EXPIRED: ReplyPage = { state: "expired" };

export function createReplies({ store, keys, book, contact, now }: RepliesParts) {
  function rowOf(
    token: string,
  ): { readonly row: KeptDelivery; readonly to: KeptContact; readonly alarm: string } | null {
    const seq = seqOfToken(token);
    const row = seq === null ? null : store.delivery(seq);
    if (row === null || row.alarm === null || row.kind !== "alarm") return null;
    if (!isToken(keys.reply, token, row.seq, row.key)) return null;
    if (now() - (row.sentMs ?? row.notBeforeMs) > REPLY_LASTS_MS) return null;
    const to = contact(row.contact);
    return to === null ? null : { row, to, alarm: row.alarm };
  }
  function page(token: string): ReplyPage {
    const found = rowOf(token);
    if (found === null) return EXPIRED;
    const { row, to, alarm } = found;
    const stands = book.find(row.site, alarm);
    // Used once, it answers no later turn of the same alarm.
    if (stands === null || (stands.state === "open" && row.repliedMs !== null)) return EXPIRED;
    return {
      state: stands.state === "open" ? "open" : "done",
      language: to.language,
      title: row.title,
      body: row.body,
      by: stands.acknowledgedBy,
      path: openPath(row.site, stands),
    };
  }
  return {
    pathFor: (row: KeptDelivery): string => REPLY_PATH + replyToken(keys.reply, row.seq, row.key),
    reply: page,
    answerReply(token: string): ReplyPage {
      const found = rowOf(token);
      if (found === null || page(token).state !== "open") return page(token);
      const { row, to, alarm } = found;
      // The alarm first: a link that was used up without an answer would leave nobody to give one.
      if (book.acknowledge(row.site, alarm, to.name)) store.reply(row.seq, now());
      return page(token);
    },
  };
}
