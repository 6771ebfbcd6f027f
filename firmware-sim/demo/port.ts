// Whether a port of this machine is free, asked before anything else is set up.
import { createServer } from "node:net";

export function portIsFree(host: string, port: number): Promise<boolean> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.once("error", () => resolve(false));
    probe.listen(port, host, () => probe.close(() => resolve(true)));
  });
}
