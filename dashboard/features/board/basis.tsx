// What the strips ahead were made from, with the age of the weather feed; zones with the same basis share a line.
import type { BoardZoneBody } from "#contract/board.ts";
import { basisWords } from "../../text/sentence.ts";
import { useVoice } from "../../ui/voice.tsx";

export function Basis({ zones }: { readonly zones: readonly BoardZoneBody[] }) {
  const voice = useVoice();
  const named = new Map<string, string[]>();
  for (const { zone, outlook } of zones) {
    if (outlook === null) continue;
    const words = basisWords(outlook, voice);
    named.set(words, [...(named.get(words) ?? []), zone.name]);
  }
  if (named.size === 0) return null;
  return (
    <div className="basis">
      {[...named].map(([words, names]) => (
        <p key={words}>
          {voice.text.board.basis}: {words}
          {named.size > 1 && ` (${names.slice(0, 12).join("; ")}${names.length > 12 ? "; …" : ""})`}.
        </p>
      ))}
    </div>
  );
}
