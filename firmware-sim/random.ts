// Seeded randomness that is a function of what it is for: the same seed, name and index always give the same number.

/** Mixes 32 bits so that neighbouring inputs give unrelated outputs. */
function mix(value: number): number {
  let bits = value | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x7feb352d);
  bits = Math.imul(bits ^ (bits >>> 15), 0x846ca68b);
  return (bits ^ (bits >>> 16)) >>> 0;
}

function hashOf(name: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < name.length; i++) hash = Math.imul(hash ^ name.charCodeAt(i), 0x01000193);
  return hash >>> 0;
}

/** Evenly spread in [0, 1). */
export function uniform(seed: number, name: string, index = 0): number {
  const low = mix(mix(seed ^ 0x9e3779b9) ^ hashOf(name));
  const bits = mix(low ^ mix(index)) ^ mix(Math.floor(index / 2 ** 32) + 0x51ed27);
  return (mix(bits) >>> 0) / 2 ** 32;
}

/** Normal with mean 0 and standard deviation 1. */
export function normal(seed: number, name: string, index = 0): number {
  const first = 1 - uniform(seed, `${name}#a`, index);
  const second = uniform(seed, `${name}#b`, index);
  return Math.sqrt(-2 * Math.log(first)) * Math.cos(2 * Math.PI * second);
}
