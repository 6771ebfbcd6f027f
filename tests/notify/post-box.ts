// A mail server and a web hook for tests, each with what it took and what it is to answer.
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { SMTPServer } from "smtp-server";

export interface PostBox {
  readonly smtpUrl: string;
  /** Letters as they came, lines unfolded. */
  readonly letters: { readonly to: string; readonly text: string }[];
  /** Set: every letter is refused with this code. */
  refuse: number | null;
  close(): Promise<void>;
}

function decoded(letter: string): string {
  const bytes = letter
    .replaceAll("=\r\n", "")
    .replace(/=([0-9A-F]{2})/g, (_, hex: string) => String.fromCharCode(Number.parseInt(hex, 16)));
  return Buffer.from(bytes, "latin1").toString("utf8");
}

export async function openPostBox(): Promise<PostBox> {
  const letters: { to: string; text: string }[] = [];
  const box = { refuse: null as number | null };
  const server = new SMTPServer({
    disabledCommands: ["STARTTLS"],
    authOptional: true,
    onRcptTo: (_address, _session, done) =>
      box.refuse === null ? done() : done(Object.assign(new Error("not now"), { responseCode: box.refuse })),
    onData(stream, { envelope }, done) {
      const parts: Buffer[] = [];
      stream.on("data", (part: Buffer) => parts.push(part));
      stream.on("end", () => {
        letters.push({ to: envelope.rcptTo[0]?.address ?? "", text: decoded(Buffer.concat(parts).toString("latin1")) });
        done();
      });
    },
  });
  server.on("error", () => undefined);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    smtpUrl: `smtp://127.0.0.1:${(server.server.address() as AddressInfo).port}`,
    letters,
    get refuse() {
      return box.refuse;
    },
    set refuse(code) {
      box.refuse = code;
    },
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}

export interface Hook {
  readonly url: string;
  readonly taken: {
    readonly headers: Readonly<Record<string, unknown>>;
    readonly body: string;
    readonly method: string;
  }[];
  answer: { status: number; headers?: Record<string, string> };
  close(): Promise<void>;
}

export async function openHook(): Promise<Hook> {
  const taken: { headers: Record<string, unknown>; body: string; method: string }[] = [];
  const hook = { answer: { status: 204 } as Hook["answer"] };
  const server = createServer((request, response) => {
    const parts: Buffer[] = [];
    request.on("data", (part: Buffer) => parts.push(part));
    request.on("end", () => {
      const { method = "" } = request;
      taken.push({ headers: request.headers, body: Buffer.concat(parts).toString("utf8"), method });
      response.writeHead(hook.answer.status, hook.answer.headers ?? {}).end();
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/in`,
    taken,
    get answer() {
      return hook.answer;
    },
    set answer(wanted) {
      hook.answer = wanted;
    },
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}
