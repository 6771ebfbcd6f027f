// Which InfluxDB readings and calls go to, and how its three generations differ at the door.

export interface InfluxTarget {
  readonly url: string;
  readonly version: 1 | 2 | 3;
  /** Version 2 only. */
  readonly org: string | null;
  /** Written to by versions 2 and 3. */
  readonly bucket: string;
  /** Written to by version 1; questions in InfluxQL name it in all of them. */
  readonly database: string;
  readonly retentionPolicy: string | null;
  /** A token, or `user:password` for version 1; null when the engine asks for none. */
  readonly token: string | null;
}

/** Names the target without its secret; another one gets everything from the beginning. */
export function targetName({ url, version, org, bucket, database, retentionPolicy }: InfluxTarget): string {
  return [version, url, org ?? "", version === 1 ? database : bucket, retentionPolicy ?? ""].join(" ");
}

const withoutSlash = (url: string) => url.replace(/\/+$/, "");

/** The path that `/write` and `/query` have in common: in both, version 1 words name the database. */
function databasePath(path: string, { database, retentionPolicy }: InfluxTarget, more: Record<string, string>): string {
  const rp = retentionPolicy === null ? {} : { rp: retentionPolicy };
  return `${path}?${new URLSearchParams({ db: database, ...rp, ...more }).toString()}`;
}

/** Version 1 has `/write`, the others `/api/v2/write`, which the client builds by itself; null = its own. */
export function writePath(target: InfluxTarget): string | null {
  return target.version === 1 ? databasePath("/write", target, { precision: "ms" }) : null;
}

/** All three answer InfluxQL here. */
export function queryUrl(target: InfluxTarget): string {
  return withoutSlash(target.url) + databasePath("/query", target, { epoch: "ms" });
}

/** Older engines of version 1 know no tokens, only a user and a password. */
export function authorization({ token, version }: InfluxTarget): Record<string, string> {
  if (token === null) return {};
  return { authorization: version === 1 ? `Basic ${Buffer.from(token).toString("base64")}` : `Token ${token}` };
}
