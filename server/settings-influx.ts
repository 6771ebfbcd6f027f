// Settings of an InfluxDB beside the embedded database, and what they must be together.
import Type from "typebox";
import type { Fault } from "#contract/faults.ts";

const Name = (what: string) => Type.String({ minLength: 1, maxLength: 200, description: what });

export const influxSettings = {
  influxUrl: Type.Optional(
    Type.String({
      pattern: "^https?://[^\\s@]+$",
      maxLength: 1000,
      description: "an InfluxDB that gets a copy of all readings and calls; unset = none",
      range: "http://host:8086 or https://host",
    }),
  ),
  influxVersion: Type.Enum([1, 2, 3], {
    default: 2,
    range: "1, 2 or 3",
    description: "its generation: 1 has databases and users, 2 buckets and tokens, 3 databases and tokens",
  }),
  influxOrg: Type.Optional(Name("organisation that the bucket belongs to; version 2")),
  influxBucket: Type.Optional(Name("bucket that is written to; version 2")),
  influxDatabase: Type.Optional(
    Name(
      "database that is written to, versions 1 and 3; with 2 the name it is read by in InfluxQL, unset = the bucket",
    ),
  ),
  influxRetentionPolicy: Type.Optional(Name("retention policy within the database, version 1; unset = its default")),
  influxToken: Type.Optional(
    Type.String({
      minLength: 1,
      maxLength: 1000,
      secret: true,
      description: "token for InfluxDB; with version 1 user:password, unset = it asks for none",
      range: "1 to 1000 characters",
    }),
  ),
};

interface Given {
  readonly influxUrl?: string;
  readonly influxVersion: number;
  readonly influxOrg?: string;
  readonly influxBucket?: string;
  readonly influxDatabase?: string;
  readonly influxRetentionPolicy?: string;
  readonly influxToken?: string;
}
type Key = keyof Given;

const NEEDED: Readonly<Record<number, readonly Key[]>> = {
  1: ["influxDatabase"],
  2: ["influxOrg", "influxBucket", "influxToken"],
  3: ["influxDatabase", "influxToken"],
};
const UNKNOWN: Readonly<Record<number, readonly Key[]>> = {
  1: ["influxOrg", "influxBucket"],
  2: ["influxRetentionPolicy"],
  3: ["influxOrg", "influxBucket", "influxRetentionPolicy"],
};

export function influxFaults(given: Given): Fault[] {
  const { influxUrl, influxVersion: version } = given;
  const fault = (key: Key, reason: string): Fault => ({ field: `/${key}`, reason });
  if (influxUrl === undefined) {
    return (["influxOrg", "influxBucket", "influxDatabase", "influxRetentionPolicy", "influxToken"] as const)
      .filter((key) => given[key] !== undefined)
      .map((key) => fault(key, "is for an InfluxDB, and influxUrl names none"));
  }
  const faults = [
    ...(NEEDED[version] ?? [])
      .filter((key) => given[key] === undefined)
      .map((key) => fault(key, `is missing: version ${version} takes it`)),
    ...(UNKNOWN[version] ?? [])
      .filter((key) => given[key] !== undefined)
      .map((key) => fault(key, `means nothing to version ${version}`)),
  ];
  if (version === 1 && given.influxToken !== undefined && !/^[^:]+:/.test(given.influxToken))
    faults.push(fault("influxToken", "must be user:password for version 1"));
  return faults;
}
