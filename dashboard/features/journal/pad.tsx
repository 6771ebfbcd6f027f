// The big buttons for what people do next.
import { type ReactNode, useState } from "react";
import type { BoardZoneBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { aheadText } from "../../text/ahead.ts";
import { journalText } from "../../text/journal.ts";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { ActDialog, type Gate } from "./act-dialog.tsx";
import { type Act, DAILY_ACTS, firstActs, RARE_ACTS } from "./acts.ts";
import { heaterSinceMs } from "./solvent.ts";
import { firstDraft } from "./standing.ts";
import "./journal.css";

interface Props {
  readonly item: BoardZoneBody;
  readonly entries: readonly EntryBody[];
  readonly sheets: readonly SheetBody[];
  /** Slab probes that a meter can be held beside. */
  readonly probes: readonly string[];
  readonly by: string;
  /** null where the session says who writes. */
  readonly onBy: ((by: string) => void) | null;
  readonly gate: (gate: Gate) => ReactNode;
  readonly burner: ReactNode;
  readonly onWrite: (entry: EntryBody) => void;
}

export function Pad({ item, entries, sheets, probes, by, onBy, gate, burner, onWrite }: Props) {
  const { text, clock, nowMs } = useVoice();
  const words = journalText(text);
  const [act, setAct] = useState<Act | null>(null);
  const [more, setMore] = useState(false);
  const first = firstActs(item.call);
  const rest = [...DAILY_ACTS, ...(more ? RARE_ACTS : [])].filter((one) => !first.includes(one));
  const button = (one: Act, main: boolean) => (
    <button
      key={one}
      type="button"
      className={main ? "button button-main pad-main" : "button"}
      onClick={() => setAct(one)}
    >
      {words.acts[one]}
    </button>
  );
  return (
    <section className="pad" aria-label={words.title}>
      <h2>{words.title}</h2>
      <p className="pad-help">{aheadText(text).helps.pad}</p>
      <div className="pad-first">{first.map((one) => button(one, true))}</div>
      <div className="pad-rest">
        {rest.map((one) => button(one, false))}
        <button type="button" className="button pad-more" aria-expanded={more} onClick={() => setMore(!more)}>
          {more ? words.fewer : words.more}
        </button>
      </div>
      {more && onBy !== null && <Field label={words.by} type="text" value={by} onType={onBy} />}
      {act !== null && (
        <ActDialog
          key={act}
          act={act}
          zone={item.zone.id}
          zoneName={item.zone.name}
          first={firstDraft(act, item, entries, nowMs, clock.timezone)}
          by={by}
          system={item.zone.system}
          sheets={sheets}
          probes={probes}
          heaterSinceMs={(atMs) => heaterSinceMs(entries, item.zone.id, atMs)}
          gate={gate}
          burner={burner}
          onWrite={onWrite}
          onClose={() => setAct(null)}
        />
      )}
    </section>
  );
}
