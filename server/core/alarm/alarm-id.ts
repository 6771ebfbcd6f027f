// The id of an alarm: the same cause raised at the same time has the same one, so that a replay makes the same alarms.

/** FNV-1a, 32 bits (Fowler, Noll, Vo). */
function hash32(text: string): number {
  let hash = 0x811c9dc5;
  for (let index = 0; index < text.length; index++) {
    hash ^= text.charCodeAt(index);
    hash = Math.imul(hash, 0x01000193);
  }
  return hash >>> 0;
}

export function alarmIdOf(site: string, group: string, raisedMs: number): string {
  return `a${Math.max(0, Math.round(raisedMs)).toString(36)}-${hash32(`${site}|${group}`).toString(36)}`;
}
