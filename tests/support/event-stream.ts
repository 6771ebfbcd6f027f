// Listens to a stream of server-sent events over a real connection, and can stop reading to play a slow listener.
import { get, type IncomingMessage } from "node:http";

export interface ServerEvent {
  readonly id: string | null;
  readonly event: string;
  readonly data: unknown;
}

export interface EventStream {
  readonly status: number;
  readonly headers: IncomingMessage["headers"];
  /** Everything heard so far, in order. */
  readonly heard: readonly ServerEvent[];
  /** Text of the answer, for one that is no stream. */
  text(): string;
  /** Resolves as soon as what was heard satisfies the question. */
  until(enough: (heard: readonly ServerEvent[]) => boolean): Promise<readonly ServerEvent[]>;
  /** Resolves when the server has ended or cut the connection. */
  readonly ended: Promise<void>;
  pause(): void;
  resume(): void;
  close(): void;
}

/** Fields of the event stream format (HTML standard, section 9.2 server-sent events). */
function readEvent(block: string): ServerEvent | null {
  const fields = new Map(
    block.split("\n").map((line) => [line.slice(0, line.indexOf(":")), line.slice(line.indexOf(":") + 1).trim()]),
  );
  const data = fields.get("data");
  return data === undefined
    ? null
    : { id: fields.get("id") ?? null, event: fields.get("event") ?? "message", data: JSON.parse(data) };
}

export function listenTo(
  url: string,
  lastEventId?: string,
  more: Readonly<Record<string, string>> = {},
): Promise<EventStream> {
  return new Promise((resolve, reject) => {
    const request = get(url, {
      headers: { ...more, ...(lastEventId === undefined ? {} : { "last-event-id": lastEventId }) },
      agent: false,
    });
    request.on("error", reject);
    request.on("response", (response) => {
      const heard: ServerEvent[] = [];
      const waiting = new Set<() => void>();
      let text = "";
      let rest = "";
      response.setEncoding("utf8");
      response.on("data", (chunk: string) => {
        text += chunk;
        const blocks = (rest + chunk).split("\n\n");
        rest = blocks.pop() ?? "";
        for (const block of blocks) {
          const event = readEvent(block);
          if (event !== null) heard.push(event);
        }
        for (const look of waiting) look();
      });
      response.on("error", () => undefined);
      const ended = new Promise<void>((done) => response.on("close", done));
      resolve({
        status: response.statusCode ?? 0,
        headers: response.headers,
        heard,
        text: () => text,
        until: (enough) =>
          new Promise((done) => {
            const look = () => {
              if (!enough(heard)) return;
              waiting.delete(look);
              done(heard);
            };
            waiting.add(look);
            look();
          }),
        ended,
        pause: () => void response.pause(),
        resume: () => void response.resume(),
        close: () => void request.destroy(),
      });
    });
  });
}
