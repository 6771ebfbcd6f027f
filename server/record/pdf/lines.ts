// Breaks text into lines at spaces only: a batch number broken at its hyphen would read as another one.

/** A word that is wider than the line is cut to pieces that fit. */
function pieces(word: string, width: number, wide: (text: string) => number): string[] {
  if (wide(word) <= width) return [word];
  const found: string[] = [];
  let open = "";
  for (const letter of word) {
    if (open !== "" && wide(open + letter) > width) {
      found.push(open);
      open = "";
    }
    open += letter;
  }
  return [...found, open];
}

/** Lines that fit into `width` as `wide` measures them. A line break of the text stays one. */
export function linesOf(text: string, width: number, wide: (text: string) => number): string[] {
  return text.split("\n").flatMap((paragraph) => {
    const lines: string[] = [];
    let open: string | null = null;
    for (const word of paragraph.split(" ").flatMap((whole) => pieces(whole, width, wide))) {
      const longer: string = open === null ? word : `${open} ${word}`;
      if (open !== null && wide(longer) > width) {
        lines.push(open);
        open = word;
      } else open = longer;
    }
    return [...lines, open ?? ""];
  });
}
