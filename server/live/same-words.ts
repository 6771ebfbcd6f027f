// Whether two bodies say the same, in whatever order their keys stand.
const words = (value: unknown): string =>
  JSON.stringify(value, (_, item: unknown) =>
    typeof item === "object" && item !== null && !Array.isArray(item)
      ? Object.fromEntries(Object.entries(item).sort(([a], [b]) => (a < b ? -1 : 1)))
      : item,
  );

export const sameWords = (one: unknown, other: unknown): boolean => words(one) === words(other);
