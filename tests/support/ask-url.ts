// Asks a server over a real connection, with an own authority and from an address of the caller's choice.
import { request as requestHttp } from "node:http";
import { request as requestHttps } from "node:https";
import type { IncomingHttpHeaders } from "node:http";

export interface Asked {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
  json<T = Record<string, unknown>>(): T;
  /** What of its cookies goes back to the server. */
  readonly cookie: string;
}

export interface Wish {
  readonly method?: string;
  readonly body?: unknown;
  readonly headers?: Readonly<Record<string, string>>;
  /** Loopback address to ask from. */
  readonly from?: string;
  readonly ca?: string;
}

export function askUrl(url: string, { method = "GET", body, headers = {}, from, ca }: Wish = {}): Promise<Asked> {
  return new Promise((resolve, reject) => {
    const options = {
      method,
      agent: false as const,
      headers: {
        ...(body === undefined ? {} : { "content-type": "application/json" }),
        "x-nightslab": "1",
        ...headers,
      },
      ...(from === undefined ? {} : { localAddress: from }),
      ...(ca === undefined ? {} : { ca }),
    };
    const request = (url.startsWith("https") ? requestHttps : requestHttp)(url, options, (answer) => {
      const pieces: Buffer[] = [];
      answer.on("data", (piece: Buffer) => pieces.push(piece));
      answer.once("end", () => {
        const text = Buffer.concat(pieces).toString();
        resolve({
          status: answer.statusCode ?? 0,
          headers: answer.headers,
          body: text,
          json: <T>() => JSON.parse(text) as T,
          cookie: (answer.headers["set-cookie"] ?? []).map((one) => one.split(";")[0]).join("; "),
        });
      });
    });
    request.once("error", reject);
    request.end(body === undefined ? undefined : JSON.stringify(body));
  });
}
