// The second tap: what was done, when, and the caution that belongs to it.
import { type FormEvent, type ReactNode, useId, useLayoutEffect, useRef, useState } from "react";
import type { EntryBody } from "#contract/journal.ts";
import type { SheetBody } from "#contract/sheet.ts";
import { journalText } from "../../text/journal.ts";
import { Choice } from "../../ui/choice.tsx";
import { useVoice } from "../../ui/voice.tsx";
import type { Act } from "./acts.ts";
import { doneAtMs, type Draft, entryOf, type Faults } from "./entry-of.ts";
import { Fields } from "./fields.tsx";
import { bringsSolvent } from "./solvent.ts";

/** What stands before a step with solvent. */
export interface Gate {
  readonly byCoat: boolean;
  readonly confirmed: boolean;
  readonly heaterSince: string | null;
  readonly error: string | undefined;
  readonly onConfirm: (confirmed: boolean) => void;
}

interface Props {
  readonly act: Act;
  readonly zone: string;
  readonly zoneName: string;
  readonly first: Draft;
  readonly by: string;
  readonly system: readonly string[];
  readonly sheets: readonly SheetBody[];
  readonly probes: readonly string[];
  /** Since when a heater burns in the room by the journal, epoch ms, asked for a moment. */
  readonly heaterSinceMs: (atMs: number) => number | null;
  readonly gate: (gate: Gate) => ReactNode;
  /** What must be said of a heater whose exhaust stays inside. */
  readonly burner: ReactNode;
  readonly onWrite: (entry: EntryBody) => void;
  readonly onClose: () => void;
}

const AGO_MIN = [15, 30, 60, 120] as const;

export function ActDialog(props: Props) {
  const { act, zone, zoneName, first, by, system, sheets, probes, heaterSinceMs, gate, burner, onWrite, onClose } =
    props;
  const { text, units, clock, nowMs } = useVoice();
  const words = journalText(text);
  const [draft, setDraft] = useState<Draft>(first);
  const [faults, setFaults] = useState<Faults>({});
  const ref = useRef<HTMLDialogElement>(null);
  const id = useId();
  // Closed while it still stands in the page: only then does the browser give the keyboard back to where it was.
  useLayoutEffect(() => {
    const dialog = ref.current;
    if (dialog !== null && !dialog.open) dialog.showModal();
    return () => dialog?.close();
  }, []);

  const set = (name: string, value: string) => {
    setDraft((before) => ({ ...before, [name]: value }));
    setFaults(({ [name]: _mended, ...rest }) => rest);
  };
  const brought = bringsSolvent(act, draft, system, sheets);
  const sinceMs = brought ? heaterSinceMs(doneAtMs(draft, nowMs)) : null;
  const heaterSince = sinceMs === null ? null : clock.when(sinceMs, nowMs);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    const solvent = { brought, heaterSince };
    const made = entryOf(act, draft, { zone, nowMs, by, units, timezone: clock.timezone, text, solvent });
    if (!made.ok) return setFaults(made.faults);
    onWrite(made.entry);
    onClose();
  };
  const caution = (words.cautions as Readonly<Record<string, string>>)[act];
  const times = {
    "0": words.now,
    ...Object.fromEntries(AGO_MIN.map((minutes) => [String(minutes), clock.time(nowMs - minutes * 60_000)])),
  };

  return (
    <dialog ref={ref} className="act" aria-labelledby={id} onCancel={onClose}>
      <form onSubmit={submit} noValidate>
        <h2 id={id}>
          {words.acts[act]} <small>{zoneName}</small>
        </h2>
        {caution !== undefined && (
          <div className="caution">
            <p>
              <b>{words.cautionTitle}: </b>
              {caution}
            </p>
            <p>{words.defer}</p>
          </div>
        )}
        {act === "overrode" && <p className="caution">{words.overrideKept}</p>}
        <Fields
          act={act}
          draft={draft}
          faults={faults}
          system={system}
          sheets={sheets}
          probes={probes}
          burner={burner}
          set={set}
        />
        {brought &&
          gate({
            ...{ byCoat: act === "pouring", confirmed: draft["confirmed"] === "yes", heaterSince },
            error: faults["confirmed"],
            onConfirm: (confirmed) => set("confirmed", confirmed ? "yes" : ""),
          })}
        {act !== "poured" && act !== "forecast" && (
          <Choice label={words.at} options={times} value={draft["ago"] ?? "0"} onPick={(value) => set("ago", value)} />
        )}
        <div className="act-end">
          <button type="submit" className="button button-main">
            {words.save}
          </button>
          <button type="button" className="button" onClick={onClose}>
            {words.cancel}
          </button>
        </div>
      </form>
    </dialog>
  );
}
