// Nonsense in the sheet of the coat on the floor or of a coat to come.
import { PASS, waits } from "#core/judge/rule.ts";

export const sheetInvalid = waits("sheet-invalid", {
  source: "misprints found in published sheets; see the checks in sheet-check.ts",
  judge: ({ sheetDoubt }) => (sheetDoubt === null ? PASS : { outcome: "stop", detail: sheetDoubt }),
});
