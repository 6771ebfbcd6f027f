// How the server can be reached: which settings go together, and warnings in plain words where a lock is missing.
import { statSync } from "node:fs";
import type { Fault } from "#contract/faults.ts";
import { readNetwork } from "./http/forwarded.ts";

/** The settings that say how the server can be reached. */
export interface DoorSettings {
  readonly accounts: "off" | "on";
  readonly httpHost: string;
  readonly httpNames?: string;
  readonly httpTlsCert?: string;
  readonly httpTlsKey?: string;
  readonly trustedProxies?: string;
  readonly mqttHost: string;
  readonly mqttUrl?: string;
  readonly mqttTlsCert?: string;
  readonly mqttTlsKey?: string;
}

export function isLoopback(host: string): boolean {
  return host === "localhost" || host === "::1" || /^127(\.\d{1,3}){3}$/.test(host);
}

/** What stands between the commas of a setting. */
export function listed(text: string | undefined): readonly string[] {
  return (text ?? "")
    .split(",")
    .map((one) => one.trim())
    .filter((one) => one !== "");
}

/** What the settings of the HTTP door cannot be together. */
export function httpFaults(settings: DoorSettings): Fault[] {
  const { accounts, httpHost, httpNames, httpTlsCert, httpTlsKey, trustedProxies } = settings;
  const faults: Fault[] = [];
  const fault = (key: keyof DoorSettings, reason: string) => faults.push({ field: `/${key}`, reason });
  if (accounts === "off") {
    if (!isLoopback(httpHost))
      fault("httpHost", "is open to the network: accounts are required for that (accounts=on)");
    if (trustedProxies !== undefined)
      fault("trustedProxies", "opens the server to whoever reaches the proxy: accounts are required (accounts=on)");
    if (httpNames !== undefined)
      fault("httpNames", "are for a server that others reach: accounts are required (accounts=on)");
  }
  if (httpTlsCert !== undefined && httpTlsKey === undefined) fault("httpTlsKey", "is missing: there is a certificate");
  if (httpTlsKey !== undefined && httpTlsCert === undefined) fault("httpTlsCert", "is missing: there is a private key");
  for (const one of listed(trustedProxies))
    if (readNetwork(one) === null) fault("trustedProxies", `has "${one}", which is neither an address nor a network`);
  return faults;
}

function brokerWarnings({ mqttUrl, mqttHost, mqttTlsCert }: DoorSettings): string[] {
  if (mqttUrl !== undefined) {
    const host = /^mqtt:\/\/(\[[^\]]+\]|[^:]+)/.exec(mqttUrl)?.[1]?.replace(/^\[|\]$/g, "");
    return host === undefined || isLoopback(host)
      ? []
      : [
          "The broker elsewhere is asked over plain MQTT: whoever shares the network on the way can read and change readings, and read the password. Use mqtts:// if it crosses more than a network of your own.",
        ];
  }
  return isLoopback(mqttHost) || mqttTlsCert !== undefined
    ? []
    : [
        "The built-in broker is reachable from the network over plain MQTT: whoever shares that network can read readings and the passwords of nodes. Set mqttTlsCert and mqttTlsKey (npm run certificates makes them).",
      ];
}

/** True if others on this machine may read the file; false if nobody can say. */
function isOpenToOthers(path: string | undefined): boolean {
  try {
    return path !== undefined && process.platform !== "win32" && (statSync(path).mode & 0o077) !== 0;
  } catch {
    return false;
  }
}

/** What somebody should know who starts the server with these settings; nothing while all is shut. */
export function warnings(settings: DoorSettings): string[] {
  const { httpHost, httpTlsCert, httpTlsKey, trustedProxies, mqttTlsKey } = settings;
  const isOpen = !isLoopback(httpHost);
  const plain = httpTlsCert === undefined;
  return [
    ...(isOpen && plain
      ? [
          "The dashboard is reachable from the network over plain HTTP: whoever shares that network can read passwords and sessions on their way, and act in their names. Browsers also refuse to install it, to push and to work offline. Set httpTlsCert and httpTlsKey (npm run certificates makes them), or put a proxy with HTTPS before it.",
        ]
      : []),
    ...(isOpen && plain && trustedProxies !== undefined
      ? [
          "The server also answers beside its proxy, without HTTPS. If the proxy runs on this machine, leave httpHost at 127.0.0.1.",
        ]
      : []),
    ...brokerWarnings(settings),
    ...[httpTlsKey, mqttTlsKey].flatMap((path) =>
      isOpenToOthers(path) ? [`Others on this machine can read the private key ${path ?? ""}: chmod 600 it.`] : [],
    ),
  ];
}
