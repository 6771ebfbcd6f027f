// Warnings in plain words where a lock is missing, settings that do not go together, and a log without secrets.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, it } from "vitest";
import { createLogger } from "../../server/logging.ts";
import { checkSettings } from "../../server/settings.ts";
import { warnings } from "../../server/ways-in.ts";

const faultsOf = (given: object) => {
  const checked = checkSettings(given);
  return checked.ok ? [] : checked.faults.map(({ field }) => field);
};
function warningsOf(given: object): string[] {
  const checked = checkSettings(given);
  if (!checked.ok) expect.fail(JSON.stringify(checked.faults));
  return warnings(checked.value);
}
const LAN = { accounts: "on", httpHost: "0.0.0.0" };
const TLS = { httpTlsCert: "/nowhere/server.pem", httpTlsKey: "/nowhere/key.pem" };

it("without accounts nothing may lead to the server but this machine", () => {
  expect(faultsOf({ httpHost: "0.0.0.0" })).toEqual(["/httpHost"]);
  expect(faultsOf({ trustedProxies: "127.0.0.1" })).toEqual(["/trustedProxies"]);
  expect(faultsOf({ httpNames: "floor.example" })).toEqual(["/httpNames"]);
  expect(faultsOf({ ...LAN, httpNames: "floor.example, box", trustedProxies: "10.0.0.0/24, ::1" })).toEqual([]);
});
it("certificate and key go together, and proxies are addresses", () => {
  expect(faultsOf({ httpTlsCert: "a" })).toEqual(["/httpTlsKey"]);
  expect(faultsOf({ httpTlsKey: "a" })).toEqual(["/httpTlsCert"]);
  for (const wrong of ["proxy", "10.0.0.0/33", "0.0.0.0/0", "10.0.0.1/", "10.0.0.1/8/8"])
    expect(faultsOf({ ...LAN, trustedProxies: wrong }), wrong).toEqual(["/trustedProxies"]);
});
it("warns where a lock is missing, and only there", () => {
  expect(warningsOf({})).toEqual([]);
  expect(warningsOf({ accounts: "on" })).toEqual([]);
  expect(warningsOf({ accounts: "on", trustedProxies: "127.0.0.1" })).toEqual([]);
  expect(warningsOf({ ...LAN, ...TLS })).toEqual([]);
  expect(warningsOf(LAN)).toEqual([expect.stringContaining("plain HTTP")]);
  expect(warningsOf({ ...LAN, trustedProxies: "10.0.0.9" })).toEqual([
    expect.stringContaining("plain HTTP"),
    expect.stringContaining("beside its proxy"),
  ]);
  expect(warningsOf({ mqttHost: "0.0.0.0", joinSecret: "tide-over-gravel" })).toEqual([
    expect.stringContaining("plain MQTT"),
  ]);
  expect(warningsOf({ mqttUrl: "mqtt://broker.example:1883" })).toEqual([expect.stringContaining("plain MQTT")]);
  for (const mqttUrl of ["mqtts://broker.example:8883", "mqtt://127.0.0.1:1883", "mqtt://[::1]:1883"])
    expect(warningsOf({ mqttUrl }), mqttUrl).toEqual([]);
});
it("warns of a private key that others on the machine can read", () => {
  const folder = mkdtempSync(join(tmpdir(), "nightslab-key-"));
  const file = (name: string, mode: number) => {
    writeFileSync(join(folder, name), "", { mode });
    return join(folder, name);
  };
  const cert = file("cert.pem", 0o644);
  expect(warningsOf({ ...LAN, httpTlsCert: cert, httpTlsKey: file("open.pem", 0o644) })).toEqual([
    expect.stringContaining("chmod 600"),
  ]);
  expect(warningsOf({ ...LAN, httpTlsCert: cert, httpTlsKey: file("shut.pem", 0o600) })).toEqual([]);
  rmSync(folder, { recursive: true });
});

it("the log holds no secret, whatever is handed to it", () => {
  const lines: string[] = [];
  const log = createLogger("info", { write: (line: string) => void lines.push(line) });
  const secret = "tide-over-gravel";
  log.info({ password: secret, body: { token: secret, code: secret } }, "a body");
  log.info({ req: { headers: { cookie: secret, authorization: secret, "set-cookie": secret } } }, "headers");
  log.info(
    { a: { b: { c: { joinSecret: secret } } }, request: { body: { current: secret, session: secret } } },
    "deep",
  );
  log.error({ err: Object.assign(new Error("in use"), { code: "EADDRINUSE" }) }, "an error");
  expect(lines).toHaveLength(4);
  expect(lines.join("")).not.toContain(secret);
  expect(lines[3]).toContain("EADDRINUSE");
});
