// Who is woken first at a site, and who next, by buttons that a keyboard and a glove can press.
import type { OnCallBody } from "#contract/notify.ts";
import { tellText } from "../../text/tell.ts";
import { OrderedList } from "../../ui/ordered-list.tsx";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly onCall: OnCallBody;
  /** Null: this person may look only. */
  readonly onOrder: ((order: readonly string[]) => void) | null;
}

export function OnCall({ onCall, onOrder }: Props) {
  const words = tellText(useVoice().text).order;
  const named = [...onCall.order, ...onCall.others];
  const options = Object.fromEntries(onCall.others.map(({ contact, name }) => [contact, name]));
  return (
    <>
      <h2>{words.title}</h2>
      <p className="field-help">{words.lead}</p>
      {onOrder === null ? (
        <ol className="on-call">
          {onCall.order.map(({ contact, name }, at) => (
            <li key={contact}>
              <b>{words.nth(at + 1)}</b> {name}
            </li>
          ))}
        </ol>
      ) : (
        <OrderedList
          label={words.label}
          value={onCall.order.map(({ contact }) => contact)}
          options={options}
          nameOf={(id) => named.find(({ contact }) => contact === id)?.name ?? id}
          words={words}
          onChange={onOrder}
        />
      )}
      {onOrder === null && onCall.order.length === 0 && <p>{words.none}</p>}
      {onCall.order.length > 0 && onCall.others.length > 0 && (
        <p className="field-help">{words.others(onCall.others.map(({ name }) => name).join(", "))}</p>
      )}
    </>
  );
}
