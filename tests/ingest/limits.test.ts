// The meter that counts packets on the raw stream, and the bucket that says how long to wait.
import { expect, it } from "vitest";
import { createBucket } from "../../server/ingest/bucket.ts";
import { createMeter, LARGEST_CONNECT_BYTES, LARGEST_PACKET_BYTES } from "../../server/ingest/meter.ts";

/** Length in up to four bytes of seven bits (MQTT 3.1.1, section 2.2.3). */
function packet(type: number, length: number): Buffer {
  const head = [type];
  for (let left = length; ; ) {
    const byte = left % 128;
    left = Math.floor(left / 128);
    head.push(left > 0 ? byte | 0x80 : byte);
    if (left === 0) break;
  }
  return Buffer.concat([Buffer.from(head), Buffer.alloc(length)]);
}

it("counts the same packets however the stream is cut", () => {
  const stream = Buffer.concat([
    packet(0x10, 40),
    packet(0xc0, 0),
    packet(0x32, 321),
    packet(0x32, 20_000),
    packet(0xe0, 0),
  ]);
  for (const size of [1, 2, 3, 7, 64, 4096, stream.length]) {
    const meter = createMeter();
    let packets = 0;
    for (let at = 0; at < stream.length; at += size) packets += meter(stream.subarray(at, at + size)).packets;
    expect(packets, `pieces of ${size}`).toBe(5);
  }
});

it("finds what is too large by its head", () => {
  const first = createMeter();
  expect(first(packet(0x10, LARGEST_CONNECT_BYTES + 1).subarray(0, 3)).tooLarge).toBe(true);
  const later = createMeter();
  expect(later(packet(0x10, 100)).tooLarge).toBe(false);
  expect(later(packet(0x32, LARGEST_PACKET_BYTES)).tooLarge).toBe(false);
  expect(later(packet(0x32, LARGEST_PACKET_BYTES + 1).subarray(0, 4)).tooLarge).toBe(true);
  // Five length bytes are none (section 2.2.3).
  const malformed = createMeter();
  malformed(packet(0x10, 10));
  expect(malformed(Buffer.from([0x32, 0x80, 0x80, 0x80, 0x80])).tooLarge).toBe(true);
});

it("lets a burst through and asks for the time that the rest costs", () => {
  const bucket = createBucket({ perS: 10, burst: 20 }, 0);
  expect(bucket.take(20, 0)).toBe(0);
  expect(bucket.take(1, 0)).toBe(100);
  expect(bucket.take(1, 100)).toBe(100);
  expect(bucket.take(5, 10_000)).toBe(0);
  expect(bucket.take(20, 10_000)).toBe(500);
});
