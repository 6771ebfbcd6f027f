// A Mosquitto as a careful house runs it: the shipped limits and access list, users of a small site, TLS.
import { readFileSync } from "node:fs";
import type { MadeCertificates } from "./made-certificates.ts";
import { SITE } from "./small-site.ts";

const shipped = (name: string) => readFileSync(new URL(`../../server/${name}`, import.meta.url), "utf8");

/** The server, two nodes, a gateway of sensors that exist, and something that hears calls and alarms. */
export const USERS = {
  nightslab: "ebb-and-flow",
  "bay-1": "kelp-and-gravel",
  north: "its own secret",
  gateway: "over the bridge",
  siren: "loud and clear",
};

/** What the shipped configuration limits; where it listens and keeps things differs in a test. */
export const LIMITS = shipped("mosquitto.conf")
  .split("\n")
  .filter((line) => /^max_/.test(line) && !line.startsWith("max_queued_messages"));

/** The shipped list, one line for all nodes of the site, and a block for everybody else. */
export const ACL = [
  shipped("mosquitto-acl.example"),
  // Topics of recipes are heard by the server as well.
  ...["user nightslab", "topic read floor/#"],
  `pattern write nightslab/v1/${SITE.id}/node/%u/#`,
  ...["user gateway", "topic write floor/#"],
  ...["user siren", "topic read nightslab/v1/+/alarm", "topic read nightslab/v1/+/zone/+/call"],
].join("\n");

export const tlsListener = (port: number, { cert, key }: MadeCertificates) => [
  `listener ${port} 127.0.0.1`,
  `certfile ${cert}`,
  `keyfile ${key}`,
];
