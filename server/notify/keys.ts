// Keys of this server, made once: the pair that push services know it by (RFC 8292), and the secret of reply links.
import { createHmac, randomBytes, timingSafeEqual } from "node:crypto";
import { chmodSync, existsSync, readFileSync, renameSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import Type from "typebox";
import webPush from "web-push";
import { readerOf, sayFaults } from "#contract/faults.ts";

export const KEYS_FILE = "notify-keys.json";

const KeysSchema = Type.Object(
  {
    vapidPublic: Type.String({ pattern: "^[A-Za-z0-9_-]{87}$" }),
    vapidPrivate: Type.String({ pattern: "^[A-Za-z0-9_-]{43}$" }),
    reply: Type.String({ minLength: 43, maxLength: 43 }),
  },
  { additionalProperties: false },
);
export type NotifyKeys = Readonly<Type.Static<typeof KeysSchema>>;

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text) as unknown;
  } catch {
    return null;
  }
}

/** Reads the keys of a data folder, or makes them; nobody but the server's user may read the file. */
export function notifyKeys(folder: string): NotifyKeys {
  const file = join(folder, KEYS_FILE);
  if (existsSync(file)) {
    const read = readerOf(KeysSchema)(jsonOf(readFileSync(file, "utf8")));
    if (!read.ok) {
      throw new Error(
        `${file} cannot be used (${sayFaults(read.faults)}): restore it, or remove it and let browsers ring anew`,
      );
    }
    chmodSync(file, 0o600);
    return read.value;
  }
  const { publicKey, privateKey } = webPush.generateVAPIDKeys();
  const keys = { vapidPublic: publicKey, vapidPrivate: privateKey, reply: randomBytes(32).toString("base64url") };
  // Whole or not at all: half a file would stop the next start.
  writeFileSync(`${file}.part`, JSON.stringify(keys), { mode: 0o600 });
  renameSync(`${file}.part`, file);
  return keys;
}

/** The secret of a link belongs to one delivery: it is reckoned, and kept nowhere. */
function macOf(secret: string, seq: number, key: string): Buffer {
  return createHmac("sha256", secret).update(`reply\n${seq}\n${key}`).digest().subarray(0, 24);
}

export function replyToken(secret: string, seq: number, key: string): string {
  return `${seq}.${macOf(secret, seq, key).toString("base64url")}`;
}

/** The number of the delivery that a token names; null when it has not the form of one. */
export function seqOfToken(token: string): number | null {
  const found = /^([1-9]\d{0,14})\.[A-Za-z0-9_-]{32}$/.exec(token);
  return found === null ? null : Number(found[1]);
}

export function isToken(secret: string, token: string, seq: number, key: string): boolean {
  const given = Buffer.from(token.split(".")[1] ?? "", "base64url");
  const right = macOf(secret, seq, key);
  return given.length === right.length && timingSafeEqual(given, right);
}
