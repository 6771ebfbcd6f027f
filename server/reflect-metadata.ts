// The few calls of the metadata proposal that the certificate library's own parts make of `Reflect` when it is loaded.
// It marks nothing by type, so a plain map of what is stored under which key is all that is needed.

type Key = string | symbol;
const kept = new WeakMap<object, Map<Key, unknown>>();

Object.assign(Reflect, {
  defineMetadata(key: Key, value: unknown, target: object): void {
    kept.set(target, (kept.get(target) ?? new Map<Key, unknown>()).set(key, value));
  },
  getMetadata: (key: Key, target: object): unknown => kept.get(target)?.get(key),
  getOwnMetadata: (key: Key, target: object): unknown => kept.get(target)?.get(key),
});
