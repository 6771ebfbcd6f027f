// Settings of telling people: where the server is reached, and the heartbeat.
import Type from "typebox";
import type { Fault } from "#contract/faults.ts";
import { isLoopback } from "./ways-in.ts";

export const notifySettings = {
  publicUrl: Type.Optional(
    Type.String({
      pattern: "^https?://[^\\s/@?#]+$",
      maxLength: 300,
      description: "address under which phones reach the dashboard; messages carry links to it",
      range: "http://name or https://name, with its port if it is not the usual one, without a path",
    }),
  ),
  heartbeatUrl: Type.Optional(
    Type.String({
      pattern: "^https?://[^\\s@]+$",
      maxLength: 1000,
      description: "address outside that is asked while broker, store and judge are well; who keeps it misses the sign",
      range: "http:// or https:// address",
      secret: true,
    }),
  ),
  heartbeatMethod: Type.Enum(["GET", "POST"], {
    default: "GET",
    description: "how the heartbeat is asked",
    range: "GET or POST",
  }),
  heartbeatEveryMin: Type.Integer({
    minimum: 1,
    maximum: 1440,
    default: 5,
    range: "1..1440",
    description: "minutes between two heartbeats",
  }),
};

interface Told {
  readonly accounts: "off" | "on";
  readonly publicUrl?: string;
  readonly smtpUrl?: string;
  readonly mailFrom?: string;
}

/** The host of the address under which the server is reached; null without one. */
export function publicHost(publicUrl: string | undefined): string | null {
  return publicUrl !== undefined && URL.canParse(publicUrl) ? new URL(publicUrl).hostname : null;
}

/** What the settings of telling people cannot be together. */
export function notifyFaults({ accounts, publicUrl, smtpUrl, mailFrom }: Told): Fault[] {
  const faults: Fault[] = [];
  const host = publicHost(publicUrl);
  if (publicUrl !== undefined && host === null) faults.push({ field: "/publicUrl", reason: "is not an address" });
  if (host !== null && accounts === "off" && !isLoopback(host.replace(/^\[|\]$/g, "")))
    faults.push({
      field: "/publicUrl",
      reason: "is for a server that others reach: accounts are required (accounts=on)",
    });
  if (smtpUrl !== undefined && mailFrom === undefined)
    faults.push({ field: "/mailFrom", reason: "is missing: there is a mail server" });
  return faults;
}
