// An engine that only speaks the protocol: it keeps the lines it took and answers as the test wishes. For what cannot be
// brought about in a real one: another generation's door, a full disk, an answer that never comes.
import { createServer, type IncomingMessage } from "node:http";
import type { AddressInfo } from "node:net";
import { gunzipSync } from "node:zlib";

export interface Ask {
  readonly path: string;
  readonly authorization: string | undefined;
  readonly lines: readonly string[];
}

export interface FakeAnswer {
  readonly status: number;
  readonly body?: string;
  readonly headers?: Record<string, string>;
  /** Which of the lines it takes; all with a status below 300, else none, unless given. */
  readonly takes?: (line: string) => boolean;
}

export interface FakeInflux {
  readonly url: string;
  readonly asked: Ask[];
  /** Lines taken, in order, with those that came twice. */
  readonly taken: string[];
  /** What comes of the next requests; null = no answer at all. */
  answer: (ask: Ask) => FakeAnswer | null;
  stop(): Promise<void>;
}

async function bodyOf(request: IncomingMessage): Promise<string> {
  const pieces: Buffer[] = [];
  for await (const piece of request) pieces.push(piece as Buffer);
  const whole = Buffer.concat(pieces);
  return (request.headers["content-encoding"] === "gzip" ? gunzipSync(whole) : whole).toString();
}

export async function startFakeInflux(): Promise<FakeInflux> {
  const asked: Ask[] = [];
  const taken: string[] = [];
  const fake = { asked, taken, answer: (): FakeAnswer | null => ({ status: 204 }) } as unknown as FakeInflux;
  const server = createServer((request, response) => {
    void bodyOf(request).then((body) => {
      const ask = { path: request.url ?? "", authorization: request.headers.authorization, lines: body.split("\n") };
      asked.push(ask);
      const answer = fake.answer(ask);
      if (answer === null) return;
      const takes = answer.takes ?? (() => answer.status < 300);
      taken.push(...ask.lines.filter(takes));
      response.writeHead(answer.status, { "content-type": "application/json", ...answer.headers });
      response.end(answer.body ?? "");
    });
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return Object.assign(fake, {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    async stop() {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  });
}
