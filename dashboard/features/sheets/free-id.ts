// An id for a new sheet from its name: it stands in journals and files for ever.

const LONGEST = 48;

export function freeId(name: string, taken: readonly string[]): string {
  const plain = name
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, LONGEST)
    .replace(/-+$/, "");
  const base = plain === "" ? "sheet" : plain;
  if (!taken.includes(base)) return base;
  for (let number = 2; ; number++) if (!taken.includes(`${base}-${number}`)) return `${base}-${number}`;
}
