// A push service of our own: takes messages as RFC 8030 asks, opens them by RFC 8291, and checks who sent them by RFC 8292.
import { createDecipheriv, createECDH, createHmac, createPublicKey, type ECDH, randomBytes, verify } from "node:crypto";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";

const hmac = (key: Buffer, ...parts: readonly Buffer[]) =>
  createHmac("sha256", key).update(Buffer.concat(parts)).digest();
const ascii = (text: string) => Buffer.from(text, "ascii");
const ONE = Buffer.from([1]);

/** Opens a message of coding aes128gcm (RFC 8188, one record) for the keys of a browser (RFC 8291, 3.4). */
export function opened(body: Buffer, browser: ECDH, auth: Buffer): string {
  const salt = body.subarray(0, 16);
  const recordBytes = body.readUInt32BE(16);
  const keyBytes = body.readUInt8(20);
  const sender = body.subarray(21, 21 + keyBytes);
  const sealed = body.subarray(21 + keyBytes);
  if (sealed.length > recordBytes) throw new Error("more than one record");
  const secret = hmac(
    hmac(auth, browser.computeSecret(sender)),
    ascii("WebPush: info\0"),
    browser.getPublicKey(),
    sender,
    ONE,
  );
  const prk = hmac(salt, secret);
  const key = hmac(prk, ascii("Content-Encoding: aes128gcm\0"), ONE).subarray(0, 16);
  const nonce = hmac(prk, ascii("Content-Encoding: nonce\0"), ONE).subarray(0, 12);
  const decipher = createDecipheriv("aes-128-gcm", key, nonce);
  decipher.setAuthTag(sealed.subarray(-16));
  const plain = Buffer.concat([decipher.update(sealed.subarray(0, -16)), decipher.final()]);
  // 2 ends the last record, zeros may follow (RFC 8188, 2).
  const end = plain.lastIndexOf(2);
  if (end < 0 || plain.subarray(end + 1).some((byte) => byte !== 0)) throw new Error("no end of the record");
  return plain.subarray(0, end).toString("utf8");
}

export interface Claims {
  readonly aud: string;
  readonly exp: number;
  readonly sub: string;
}

/** The claims of a signed Authorization header, and the key that signed it; throws if the signature does not hold. */
export function claimsOf(authorization: string): { readonly claims: Claims; readonly key: string } {
  const found = /^vapid t=([\w-]+)\.([\w-]+)\.([\w-]+), ?k=([\w-]+)$/.exec(authorization);
  if (found === null) throw new Error(`not of the form of RFC 8292: ${authorization}`);
  const [, head = "", claims = "", signature = "", key = ""] = found;
  const point = Buffer.from(key, "base64url");
  const [x, y] = [point.subarray(1, 33), point.subarray(33)].map((part) => part.toString("base64url"));
  const publicKey = createPublicKey({ format: "jwk", key: { kty: "EC", crv: "P-256", x: x ?? "", y: y ?? "" } });
  const by = { key: publicKey, dsaEncoding: "ieee-p1363" } as const;
  if (!verify("sha256", ascii(`${head}.${claims}`), by, Buffer.from(signature, "base64url")))
    throw new Error("the signature does not hold");
  const read = (part: string) => JSON.parse(Buffer.from(part, "base64url").toString("utf8")) as unknown;
  if ((read(head) as { alg: string }).alg !== "ES256") throw new Error("not ES256");
  return { claims: read(claims) as Claims, key };
}

export interface Taken {
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly text: string;
}

export interface PushService {
  readonly url: string;
  readonly keys: { readonly p256dh: string; readonly auth: string };
  readonly taken: Taken[];
  /** What it answers from now on. */
  answer: { status: number; headers?: Record<string, string> };
  close(): Promise<void>;
}

export async function openPushService(): Promise<PushService> {
  const browser = createECDH("prime256v1");
  browser.generateKeys();
  const auth = randomBytes(16);
  const taken: Taken[] = [];
  const service = { answer: { status: 201 } } as { answer: PushService["answer"] };
  const server = createServer((request, response) => {
    const parts: Buffer[] = [];
    request.on("data", (part: Buffer) => parts.push(part));
    request.on("end", () => {
      const { status, headers = {} } = service.answer;
      if (status === 201) taken.push({ headers: request.headers, text: opened(Buffer.concat(parts), browser, auth) });
      response.writeHead(status, headers).end();
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    keys: { p256dh: browser.getPublicKey("base64url"), auth: auth.toString("base64url") },
    taken,
    get answer() {
      return service.answer;
    },
    set answer(wanted) {
      service.answer = wanted;
    },
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}
