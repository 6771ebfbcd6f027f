// Text as the standard fonts can draw it. They know the letters of WinAnsi only; nothing else may vanish without a word.

/** What WinAnsi has above 0x7f outside of Latin-1 (ISO 32000-1, annex D.2). */
const BEYOND_LATIN_1 = "€‚ƒ„…†‡ˆ‰Š‹ŒŽ‘’“”•–—˜™š›œžŸ";
/** Signs that are written otherwise, and letters whose stroke cannot be taken off by decomposition. */
const INSTEAD: Readonly<Record<string, string>> = {
  "\u2212": "–",
  "≤": "<=",
  "≥": ">=",
  "≈": "~",
  "→": "->",
  "′": "'",
  "″": '"',
  μ: "µ",
  "₂": "2",
  ł: "l",
  Ł: "L",
  đ: "d",
  Đ: "D",
  ı: "i",
  "\u202f": "\u00a0",
  "\u2009": " ",
  "\t": " ",
};
/** Joiners, marks of direction and the like: they have no shape of their own. */
const SHAPELESS =
  /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u00ad\u200b-\u200f\u2028-\u202e\u2060-\u2064\ufe00-\ufe0f\ufeff]/gu;

export function isDrawable(letter: string): boolean {
  const code = letter.codePointAt(0) ?? 0;
  return (
    code === 10 ||
    (code >= 32 && code < 127) ||
    (code > 160 && code < 256) ||
    code === 160 ||
    BEYOND_LATIN_1.includes(letter)
  );
}

function drawn(letter: string): string {
  if (isDrawable(letter)) return letter;
  const instead = INSTEAD[letter];
  if (instead !== undefined) return instead;
  const bare = letter.normalize("NFD").replace(/\p{M}/gu, "");
  if (bare !== "" && [...bare].every(isDrawable)) return bare;
  return `[U+${(letter.codePointAt(0) ?? 0).toString(16).toUpperCase().padStart(4, "0")}]`;
}

/** The text in letters that the fonts have: the nearest, or the number of the letter in brackets. */
export function drawable(text: string): string {
  return [...text.normalize("NFC").replace(/\t/g, " ").replace(SHAPELESS, "")].map(drawn).join("");
}
