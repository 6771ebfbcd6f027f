// Asks the system for a loopback TCP port that nobody listens on at this moment.
import { createServer } from "node:net";

/**
 * A free TCP port on 127.0.0.1 (1024..65535). Another process may take it before the caller binds it, so whoever starts
 * a program on it must be ready to ask again.
 */
export async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve, reject) => {
    server.once("error", reject);
    server.listen(0, "127.0.0.1", resolve);
  });
  const address = server.address();
  await new Promise<void>((resolve) => server.close(() => resolve()));
  if (address === null || typeof address === "string") throw new Error("the system gave no port number");
  return address.port;
}
