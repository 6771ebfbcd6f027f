// Calls that were shown and would have been others, had all been heard by then: beside the record, never in it.
import type { BoardZoneBody } from "#contract/board.ts";
import { zoneText } from "../../text/zone.ts";
import { useVoice } from "../../ui/voice.tsx";

export function Revised({ item }: { readonly item: BoardZoneBody }) {
  const { text, clock, nowMs } = useVoice();
  const words = zoneText(text);
  const lines = item.revised ?? [];
  if (lines.length === 0) return null;
  const names = text.ruleNames as Readonly<Record<string, string>>;
  const named = (call: keyof typeof text.words, limiting: string | null) =>
    limiting === null ? text.words[call] : `${text.words[call]} (${names[limiting] ?? limiting})`;
  const when = (iso: string) => clock.when(Date.parse(iso), nowMs);
  return (
    <section aria-labelledby="revised-title">
      <h2 id="revised-title">{words.revised}</h2>
      <p className="why-note">{words.revisedHelp}</p>
      <ul>
        {lines.map(({ from, to, call, limiting, wouldBe, wouldBeLimiting }) => (
          <li key={from}>
            {words.revisedLine(when(from), when(to), named(call, limiting), named(wouldBe, wouldBeLimiting))}
          </li>
        ))}
      </ul>
    </section>
  );
}
