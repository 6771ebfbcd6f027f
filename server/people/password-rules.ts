// What a password must be (NIST SP 800-63B 5.1.1.2, OWASP ASVS 2.1): long, and not what anybody would try first.
import { PASSWORD_LONGEST, PASSWORD_SHORTEST } from "#contract/access.ts";
import { COMMON_WORDS, RUNS } from "./common-words.ts";

/** Fewer different letters than this beside known words and runs are as good as none. */
const FEWEST_OWN = 5;
const LOOK_ALIKES: Readonly<Record<string, string>> = {
  ...{ "0": "o", "1": "i", "3": "e", "4": "a", "5": "s", "7": "t", "@": "a", $: "s", "!": "i" },
};
const ROWS = [...RUNS, ...RUNS.map((row) => [...row].reverse().join(""))];
const SHORTEST_RUN = 4;

/** Takes out every stretch of four or more that fingers find by themselves. */
function withoutRuns(text: string): string {
  let rest = "";
  for (let at = 0; at < text.length; ) {
    let length = 0;
    for (const row of ROWS)
      for (let n = SHORTEST_RUN; n <= text.length - at && row.includes(text.slice(at, at + n)); n += 1)
        length = Math.max(length, n);
    if (length === 0) rest += text[at];
    at += Math.max(1, length);
  }
  return rest;
}

function withoutWords(text: string, words: readonly string[]): string {
  return words.reduce((rest, word) => rest.replaceAll(word, " "), text);
}

/** True if the whole is one short piece again and again. */
function isRepeated(text: string): boolean {
  return /^(.{1,4})\1+(.{0,3})$/s.test(text);
}

/** As it is hashed: one form for what looks the same, however a keyboard composes it. */
export function plainPassword(password: string): string {
  return password.normalize("NFKC");
}

/**
 * Why a password is refused, for the person who typed it; null if it is good enough. `own`: names of the person and of
 * sites, which others know too. No rule asks for kinds of characters.
 */
export function passwordFault(password: string, own: readonly string[]): string | null {
  const length = [...plainPassword(password)].length;
  if (length < PASSWORD_SHORTEST)
    return `is too short: ${PASSWORD_SHORTEST} characters at least, several words will do`;
  if (length > PASSWORD_LONGEST) return `is too long: ${PASSWORD_LONGEST} characters at most`;
  const small = plainPassword(password).toLowerCase();
  if (isRepeated(small)) return "is one piece again and again";
  const names = own
    .flatMap((name) =>
      name
        .normalize("NFKC")
        .toLowerCase()
        .split(/[^\p{L}\p{N}]+/u),
    )
    .filter((name) => name.length >= 3)
    .sort((a, b) => b.length - a.length);
  const readings = [small, small.replace(/[013457@$!]/g, (one) => LOOK_ALIKES[one] ?? one)];
  const tooLittle = readings.some((text) => {
    const rest = withoutWords(withoutRuns(withoutWords(text, names)), COMMON_WORDS).replace(/[^\p{L}\p{N}]/gu, "");
    // Digits beside words are years and counters.
    return new Set(rest.replace(/\p{N}/gu, "")).size + Math.min(2, new Set(rest.match(/\p{N}/gu)).size) < FEWEST_OWN;
  });
  return tooLittle ? "is made of names, common words or rows of keys: others would try it too" : null;
}
