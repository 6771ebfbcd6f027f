// Settings of growing past one server: an office over many sites, and several servers on one broker.
import Type from "typebox";
import type { Fault } from "#contract/faults.ts";

export const officeSettings = {
  office: Type.Enum(["off", "on"], {
    default: "off",
    range: "off or on",
    description:
      "on: this server is an office, which shows what the servers of all sites say and judges nothing itself",
  }),
  mqttHear: Type.Enum(["all", "own"], {
    default: "all",
    range: "all or own",
    description:
      "whose nodes are heard at the broker elsewhere: all, or of sites that are set up here; own for several servers",
  }),
  shards: Type.Optional(
    Type.String({
      minLength: 1,
      maxLength: 4096,
      description:
        "folder of shards, each the data folder of one server: this process serves those that no other holds, instead of data",
    }),
  ),
};

interface Given {
  readonly shards?: string;
  readonly office: string;
  readonly mqttHear: string;
  readonly mqttUrl?: string;
  readonly site?: string;
}

export function officeFaults({ office, mqttHear, mqttUrl, site, shards }: Given): Fault[] {
  const faults: Fault[] = [];
  if (office === "on" && mqttUrl === undefined)
    faults.push({ field: "/mqttUrl", reason: "is missing: an office hears the sites through one broker elsewhere" });
  if (office === "on" && site !== undefined) faults.push({ field: "/site", reason: "means nothing to an office" });
  if (mqttHear === "own" && mqttUrl === undefined)
    faults.push({ field: "/mqttHear", reason: "own is for a broker elsewhere, and mqttUrl names none" });
  if (shards !== undefined && mqttHear !== "own")
    faults.push({ field: "/mqttHear", reason: "must be own: each shard hears the nodes of its own sites" });
  if (shards !== undefined && office === "on") faults.push({ field: "/shards", reason: "means nothing to an office" });
  return faults;
}
