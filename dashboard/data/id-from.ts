// Ids of what a person names: letters and digits that topics and addresses can carry.

/** An id that a name suggests and nothing has yet. */
export function idFrom(name: string, taken: readonly string[], fallback: string): string {
  const plainName = name
    .normalize("NFD")
    .replace(/[\u0300-\u036f]/g, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 50);
  const base = plainName === "" ? fallback : plainName;
  if (!taken.includes(base)) return base;
  for (let n = 2; ; n++) if (!taken.includes(`${base}-${n}`)) return `${base}-${n}`;
}
