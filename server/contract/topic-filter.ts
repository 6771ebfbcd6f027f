// MQTT topic filters: what they match, and whether two of them can match the same topic.

const SEGMENT = /^(\+|#|[^+#\u0000]*)$/;

/** Why it is no filter for a recipe; null if it is one. */
export function filterFault(filter: string): string | null {
  const levels = filter.split("/");
  if (filter === "") return "is empty";
  if (levels.some((level) => !SEGMENT.test(level))) return "has + or # beside other characters of a level";
  if (levels.indexOf("#") !== -1 && levels.indexOf("#") !== levels.length - 1) return "has # before its end";
  if (levels[0] === "#" || levels[0] === "+") return "must begin with a name: it would hear everything";
  if (filter.startsWith("$")) return "begins with $, which belongs to the broker";
  return null;
}

/** True if a topic matches (MQTT 3.1.1, section 4.7). */
export function filterMatches(filter: string, topic: string): boolean {
  const wanted = filter.split("/");
  const given = topic.split("/");
  for (const [index, level] of wanted.entries()) {
    if (level === "#") return true;
    if (index >= given.length || (level !== "+" && level !== given[index])) return false;
  }
  return wanted.length === given.length;
}

/** True if some topic matches both. */
export function filtersOverlap(one: string, other: string): boolean {
  const [a, b] = [one.split("/"), other.split("/")];
  for (let index = 0; ; index += 1) {
    const [x, y] = [a[index], b[index]];
    if (x === "#" || y === "#") return true;
    if (x === undefined || y === undefined) return x === y;
    if (x !== y && x !== "+" && y !== "+") return false;
  }
}
