// Whether a sheet is a limit: who held it against the page, or that nobody has.
import type { SheetBody } from "#contract/sheet.ts";
import type { SheetsText } from "../../text/en-sheets.ts";
import { useVoice } from "../../ui/voice.tsx";

export function StateLine({ sheet, words }: { readonly sheet: SheetBody; readonly words: SheetsText }) {
  const { clock, nowMs } = useVoice();
  const { confirmed } = sheet;
  if (confirmed === null) return <p className="sheet-state sheet-open">{words.unconfirmed}</p>;
  if (confirmed === undefined) return <p className="sheet-state">{words.before}</p>;
  const said = words.confirmedBy(confirmed.by ?? words.somebody, clock.when(Date.parse(confirmed.at), nowMs));
  return <p className="sheet-state">{confirmed.same ? `${said} (${words.samePerson})` : said}</p>;
}
