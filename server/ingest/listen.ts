// The socket of the built-in broker, plain or with TLS.
import { readFileSync, statSync } from "node:fs";
import { createServer, type Server, type Socket } from "node:net";
import { createServer as createTlsServer, type Server as TlsServer } from "node:tls";

export interface Certificate {
  /** Paths of PEM files: the certificate with its chain, and its private key. */
  readonly certFile: string;
  readonly keyFile: string;
}

/** A certificate that was renewed on the disk is used for new connections after at most this time. */
const LOOK_MS = 10 * 60_000;

function pemOf({ certFile, keyFile }: Certificate) {
  return { cert: readFileSync(certFile), key: readFileSync(keyFile), minVersion: "TLSv1.2" as const };
}

function renew(server: TlsServer, certificate: Certificate, failed: (why: string) => void): void {
  const changedMs = () =>
    Math.max(...[certificate.certFile, certificate.keyFile].map((file) => statSync(file).mtimeMs));
  let knownMs = changedMs();
  const timer = setInterval(() => {
    try {
      const nowMs = changedMs();
      if (nowMs === knownMs) return;
      server.setSecureContext(pemOf(certificate));
      knownMs = nowMs;
    } catch (error) {
      failed(error instanceof Error ? error.message : String(error));
    }
  }, LOOK_MS).unref();
  server.on("close", () => clearInterval(timer));
}

export function openServer(
  certificate: Certificate | null,
  met: (socket: Socket) => void,
  failed: (why: string) => void,
): Server {
  if (certificate === null) return createServer(met);
  try {
    const server = createTlsServer(pemOf(certificate), met);
    renew(server, certificate, failed);
    return server;
  } catch (error) {
    throw new Error(
      `the certificate of the broker cannot be used (settings mqttTlsCert and mqttTlsKey): ${error instanceof Error ? error.message : String(error)}`,
    );
  }
}

/** Nodes that may knock in one moment, such as after a power cut; the machine may allow fewer. */
const BACKLOG = 4096;

export async function listen(server: Server, host: string, port: number): Promise<number> {
  await new Promise<void>((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) =>
      reject(
        error.code === "EADDRINUSE"
          ? new Error(
              `port ${port} at ${host} is in use: another broker may be running there (setting mqttPort, or mqttUrl to use that one)`,
            )
          : error,
      ),
    );
    server.listen({ port, host, backlog: BACKLOG }, resolve);
  });
  const address = server.address();
  return typeof address === "object" && address !== null ? address.port : port;
}
