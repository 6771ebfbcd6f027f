// The peer of the built-in broker: the same library, bare.
import { createServer } from "node:net";
import { Aedes } from "aedes";
import { answer } from "./answer.ts";

answer({
  async start(): Promise<string> {
    const broker = await Aedes.createBroker();
    const server = createServer((socket) => void broker.handle(socket));
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const address = server.address();
    if (address === null || typeof address === "string") throw new Error("no port");
    return `mqtt://127.0.0.1:${address.port}`;
  },
});
