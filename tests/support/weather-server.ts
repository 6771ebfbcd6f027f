// A weather service on this machine that answers as the test wishes, well or badly, and remembers what it was asked.
import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";

export type Answering = (request: IncomingMessage, response: ServerResponse) => void;

export interface WeatherServer {
  readonly url: string;
  /** Path and headers of every question, in order. */
  readonly asked: { readonly path: string; readonly headers: IncomingMessage["headers"] }[];
  answer(answering: Answering): void;
  close(): Promise<void>;
}

export const json =
  (body: unknown, headers: Record<string, string> = {}): Answering =>
  (_, response) =>
    void response.writeHead(200, { "content-type": "application/json", ...headers }).end(JSON.stringify(body));

export const status =
  (code: number, headers: Record<string, string> = {}, body = ""): Answering =>
  (_, response) =>
    void response.writeHead(code, headers).end(body);

export async function startWeatherServer(): Promise<WeatherServer> {
  const asked: { path: string; headers: IncomingMessage["headers"] }[] = [];
  let answering: Answering = status(503);
  const server = createServer((request, response) => {
    asked.push({ path: request.url ?? "", headers: request.headers });
    answering(request, response);
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return {
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    asked,
    answer(next) {
      answering = next;
    },
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}
