// What a password must be: long, and not what others would try first.
import { expect, it } from "vitest";
import { passwordFault } from "../../server/people/password-rules.ts";

const OWN = ["Ada Ruiz", "boathouse", "River boathouse"];

// Lengths: OWASP ASVS 4.0.3, 2.1.1 (12 at least) and 2.1.2 (64 allowed, more than 128 refused).
it.each([
  "seven otters under a jetty",
  "Tz7!kQ2#vLp9",
  "пять лодок на реке",
  "x".concat(" gull pier rope".repeat(8)),
  "  two  spaces kept  ",
])("takes %s", (password) => {
  expect(passwordFault(password, OWN)).toBeNull();
});
it.each([
  ["eleven char", "too short"],
  ["x".concat(" gull pier rope".repeat(9)), "too long"],
  ["abcabcabcabc", "again and again"],
  ["aaaaaaaaaaaaaaa", "again and again"],
  ["123456789012", "rows of keys"],
  ["qwertyuiop1234", "rows of keys"],
  ["zyxwvutsrqponm", "rows of keys"],
  ["Password2026!", "common words"],
  ["P@ssw0rd!P@ssw0rd!x", "common words"],
  ["adaruiz-2026-boathouse", "names"],
  ["Nightslab epoxy floor 1", "common words"],
  ["bienvenido verano 26", "common words"],
])("refuses %s", (password, why) => {
  expect(passwordFault(password, OWN)).toContain(why);
});
it("asks for no kinds of characters, and counts what is seen, not what is stored", () => {
  expect(passwordFault("otters under jetty", OWN)).toBeNull();
  expect(passwordFault("🦦🌊🛶⚓🏚️", OWN)).toContain("too short");
});
