// Headers in which a proxy says for whom it asks: believed from the proxies of the settings, refused from anybody else.
import { BlockList, isIP } from "node:net";
import type { FastifyRequest } from "fastify";
import { Refused } from "./refused.ts";

const FORWARDED = /^(x-forwarded-|x-real-ip$|forwarded$|via$)/;

/** An address, or an address with a prefix length; null if it is neither. */
export function readNetwork(text: string): { readonly address: string; readonly prefix: number | null } | null {
  const [address = "", prefix, ...more] = text.split("/");
  const kind = isIP(address);
  if (kind === 0 || more.length > 0) return null;
  if (prefix === undefined) return { address, prefix: null };
  const bits = /^\d{1,3}$/.test(prefix) ? Number(prefix) : -1;
  return bits < 1 || bits > (kind === 4 ? 32 : 128) ? null : { address, prefix: bits };
}

export function trustOf(networks: readonly string[]): (address: string) => boolean {
  const list = new BlockList();
  for (const text of networks) {
    const network = readNetwork(text);
    if (network === null) throw new RangeError(`"${text}" is no address`);
    const kind = isIP(network.address) === 4 ? "ipv4" : "ipv6";
    if (network.prefix === null) list.addAddress(network.address, kind);
    else list.addSubnet(network.address, network.prefix, kind);
  }
  return (address) => {
    const bare = address.replace(/^::ffff:(?=\d+\.)/, "");
    const kind = isIP(bare);
    return kind !== 0 && list.check(bare, kind === 4 ? "ipv4" : "ipv6");
  };
}

/**
 * Without accounts the server believes that whoever reaches its loopback address stands at this machine. A proxy makes
 * that untrue, and its headers give it away. With accounts a forged header would lend somebody another address.
 */
export function forwardedGuard(isTrusted: (address: string) => boolean) {
  return async (request: FastifyRequest): Promise<void> => {
    const name = Object.keys(request.headers).find((header) => FORWARDED.test(header));
    if (name === undefined || isTrusted(request.raw.socket.remoteAddress ?? "")) return;
    throw new Refused(
      400,
      "This request came through a proxy that the settings do not name. Behind a proxy the server needs accounts and trustedProxy; otherwise the proxy would open it to strangers.",
      [{ field: name, reason: "is taken from the proxies in the settings only" }],
    );
  };
}
