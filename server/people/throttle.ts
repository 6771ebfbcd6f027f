// How long somebody must wait before the next try at a password or code, by name, address and device.
import { createHash } from "node:crypto";
import { isIPv6 } from "node:net";

export interface Try {
  /** As it is compared; null for a code, which has no name. */
  readonly name: string | null;
  readonly address: string;
  /** Hash of a device that this name has signed in on before; null for a stranger. */
  readonly device: string | null;
}

export interface Throttle {
  /** Milliseconds still to wait; 0: the try counts as failed from now on, until `passed` takes that back. */
  begin(one: Try): number;
  passed(one: Try): void;
  /** The try was not looked at after all: neither passed nor failed. */
  untried(one: Try): void;
}

interface Bucket {
  failures: number;
  lastMs: number;
}
interface Ruled {
  readonly bucket: Bucket;
  readonly delay: (bucket: Bucket) => number;
  /** Of this name and place or device alone: cleared when it passes. */
  readonly own: boolean;
}
interface Rule {
  readonly free: number;
  readonly longestS: number;
}

const HOUR_MS = 3_600_000;
/** One name from one place: three tries, then 1, 2, 4 ... 300 s. */
const PAIR: Rule = { free: 3, longestS: 300 };
/** One place, whatever the names: a crew shares it. */
const PLACE: Rule = { free: 12, longestS: 60 };
/** One name from many places: as many strangers' failures an hour, then strangers wait. ASVS 2.2.1 allows 100. */
const STRANGERS_AN_HOUR = 50;
/** Counters are kept in so many places, so that no flood of names or addresses fills the memory. */
const BUCKETS = 1 << 16;

/** Whoever has one IPv6 address has the whole /64. */
function placeOf(address: string): string {
  const bare = address.replace(/^::ffff:(?=\d+\.)/, "");
  if (!isIPv6(bare)) return bare;
  const [head = "", tail] = bare.split("::");
  const first = head.split(":").filter((part) => part !== "");
  const last = tail === undefined ? [] : tail.split(":").filter((part) => part !== "");
  const zeros = Array.from({ length: Math.max(0, 8 - first.length - last.length) }, () => "0");
  return [...first, ...(tail === undefined ? [] : zeros), ...last].slice(0, 4).join(":");
}

function delayMs({ failures }: Bucket, { free, longestS }: Rule): number {
  return failures < free ? 0 : Math.min(longestS, 2 ** (failures - free)) * 1000;
}

export function createThrottle(nowMs: () => number, salt: string): Throttle {
  const buckets = new Map<number, Bucket>();
  const at = (kind: string, key: string): Bucket => {
    // Salted, so that nobody can choose a name that shares a counter with another.
    const place = createHash("sha256").update(`${salt}\n${kind}\n${key}`).digest().readUInt32BE() % BUCKETS;
    const known = buckets.get(place);
    if (known !== undefined && nowMs() - known.lastMs < HOUR_MS) return known;
    const fresh = { failures: 0, lastMs: nowMs() };
    buckets.set(place, fresh);
    return fresh;
  };
  const hourly = (bucket: Bucket) => (bucket.failures < STRANGERS_AN_HOUR ? 0 : HOUR_MS);
  const rulesOf = ({ name, address, device }: Try): readonly Ruled[] => {
    const place = placeOf(address);
    // A device that has been here before waits for its own slips only: nobody else can lock it out.
    if (device !== null)
      return [{ bucket: at("device", `${name ?? ""}\n${device}`), delay: (of) => delayMs(of, PAIR), own: true }];
    const ofPlace: Ruled = { bucket: at("place", place), delay: (of) => delayMs(of, PLACE), own: false };
    if (name === null) return [ofPlace];
    const ofPair: Ruled = { bucket: at("pair", `${name}\n${place}`), delay: (of) => delayMs(of, PAIR), own: true };
    return [ofPlace, ofPair, { bucket: at("name", name), delay: hourly, own: false }];
  };
  return {
    begin(one) {
      const rules = rulesOf(one);
      const waitMs = Math.max(...rules.map(({ bucket, delay }) => bucket.lastMs + delay(bucket) - nowMs()));
      // Tries that come too soon are not counted: they would only make others behind the same address wait.
      if (waitMs > 0) return waitMs;
      for (const { bucket } of rules) {
        bucket.failures += 1;
        bucket.lastMs = nowMs();
      }
      return 0;
    },
    untried(one) {
      for (const { bucket } of rulesOf(one)) bucket.failures = Math.max(0, bucket.failures - 1);
    },
    passed(one) {
      for (const { bucket, own } of rulesOf(one)) bucket.failures = own ? 0 : Math.max(0, bucket.failures - 1);
    },
  };
}
