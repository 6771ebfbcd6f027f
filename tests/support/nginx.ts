// Starts a real nginx as a proxy on free loopback ports, with the configuration that the readme gives.
import { type ChildProcess, spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { connect } from "node:net";
import { tmpdir, userInfo } from "node:os";
import { join } from "node:path";
import { programPath } from "../../.ci/programs.ts";
import { freePort } from "./free-port.ts";

export interface RunningNginx {
  readonly httpPort: number;
  readonly httpsPort: number;
  stop(): Promise<void>;
}

const accepts = (port: number) =>
  new Promise<boolean>((resolve) => {
    const socket = connect({ host: "127.0.0.1", port });
    socket.once("connect", () => resolve(true)).once("error", () => resolve(false));
    socket.once("connect", () => socket.destroy());
  });

/** The lines of a `location` that the readme tells people to write. */
export const PROXY_LINES = `proxy_http_version 1.1;
proxy_set_header Host $http_host;
proxy_set_header X-Forwarded-For $proxy_add_x_forwarded_for;
proxy_set_header X-Forwarded-Proto $scheme;
proxy_buffering off;
proxy_read_timeout 1h;`;

export async function startNginx(
  upstream: string,
  tls: { readonly cert: string; readonly key: string },
): Promise<RunningNginx> {
  const folder = mkdtempSync(join(tmpdir(), "nightslab-nginx-"));
  const [httpPort, httpsPort] = [await freePort(), await freePort()];
  const temp = ["client_body", "proxy", "fastcgi", "uwsgi", "scgi"].map((of) => `${of}_temp_path ${folder}/${of};`);
  const location = `location / { proxy_pass ${upstream}; ${PROXY_LINES} }`;
  writeFileSync(
    join(folder, "nginx.conf"),
    `daemon off; master_process off; user ${userInfo().username}; pid ${folder}/pid; error_log ${folder}/error.log;
events {}
http { access_log off; ${temp.join(" ")}
  server { listen 127.0.0.1:${httpPort}; ${location} }
  server { listen 127.0.0.1:${httpsPort} ssl; ssl_certificate ${tls.cert}; ssl_certificate_key ${tls.key}; ${location} }
}
`,
  );
  const program = programPath("nginx");
  if (program === null) throw new Error("nginx is not installed");
  const child: ChildProcess = spawn(program, ["-p", folder, "-c", join(folder, "nginx.conf")], { stdio: "ignore" });
  const untilMs = performance.now() + 40_000;
  while (!(await accepts(httpsPort))) {
    if (performance.now() > untilMs || child.exitCode !== null) throw new Error("nginx did not start");
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
  return {
    httpPort,
    httpsPort,
    async stop() {
      const gone = new Promise((resolve) => child.once("close", resolve));
      child.kill();
      await gone;
      rmSync(folder, { recursive: true });
    },
  };
}
