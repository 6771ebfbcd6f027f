// Counts MQTT packets on the raw stream and finds one that is too large by its head, before anybody gathers it.

/** Bytes of a packet: of the first, which is CONNECT, and of any later one. A payload of 64 KiB with a long topic fits. */
export const LARGEST_CONNECT_BYTES = 4096;
export const LARGEST_PACKET_BYTES = 68 * 1024;

export interface Metered {
  /** Packets that began in this chunk. */
  readonly packets: number;
  /** True from the head of a packet on that is too large or malformed. */
  readonly tooLarge: boolean;
}

/** The fixed header (MQTT 3.1.1, section 2.2): a type byte, then the length in up to four bytes of seven bits. */
export function createMeter(): (chunk: Uint8Array) => Metered {
  let left = 0;
  let place: "type" | "length" | "body" = "type";
  let length = 0;
  let shift = 0;
  let largest = LARGEST_CONNECT_BYTES;
  return (chunk) => {
    let packets = 0;
    let at = 0;
    while (at < chunk.length) {
      if (place === "type") {
        packets += 1;
        length = 0;
        shift = 0;
        place = "length";
        at += 1;
      } else if (place === "length") {
        const byte = chunk[at] as number;
        at += 1;
        length += (byte & 0x7f) * 2 ** shift;
        shift += 7;
        if (length > largest || (shift > 21 && byte > 0x7f)) return { packets, tooLarge: true };
        if (byte > 0x7f) continue;
        left = length;
        largest = LARGEST_PACKET_BYTES;
        place = left === 0 ? "type" : "body";
      } else {
        const step = Math.min(left, chunk.length - at);
        at += step;
        left -= step;
        if (left === 0) place = "type";
      }
    }
    return { packets, tooLarge: false };
  };
}
