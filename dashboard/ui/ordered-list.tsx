// A list whose order counts: up, down, out, and adding, by buttons that a glove can press.
import { Choice } from "./choice.tsx";
import "./ordered-list.css";

interface Props {
  readonly label: string;
  readonly value: readonly string[];
  /** All that can stand in the list; one may stand in it more than once. */
  readonly options: Readonly<Record<string, string>>;
  /** Where names are wanted of what can be added no more. */
  readonly nameOf?: (id: string) => string;
  readonly words: {
    readonly nth: (n: number) => string;
    readonly up: (name: string) => string;
    readonly down: (name: string) => string;
    readonly out: (name: string) => string;
    readonly add: string;
    readonly none: string;
  };
  readonly error?: string | undefined;
  readonly onChange: (value: readonly string[]) => void;
}

export function OrderedList({ label, value, options, words, error, onChange, ...props }: Props) {
  const nameOf = props.nameOf ?? ((id: string) => options[id] ?? id);
  const swap = (index: number, other: number) => {
    const next = [...value];
    [next[index], next[other]] = [next[other] as string, next[index] as string];
    onChange(next);
  };
  return (
    <div className="ordered">
      <p className="ordered-label">{label}</p>
      {value.length === 0 ? (
        <p className="field-help">{words.none}</p>
      ) : (
        <ol>
          {value.map((id, index) => (
            <li key={`${index} ${id}`}>
              <span>
                <b>{words.nth(index + 1)}</b> {nameOf(id)}
              </span>
              <button
                type="button"
                className="button"
                disabled={index === 0}
                aria-label={words.up(nameOf(id))}
                onClick={() => swap(index, index - 1)}
              >
                ↑
              </button>
              <button
                type="button"
                className="button"
                disabled={index === value.length - 1}
                aria-label={words.down(nameOf(id))}
                onClick={() => swap(index, index + 1)}
              >
                ↓
              </button>
              <button
                type="button"
                className="button"
                aria-label={words.out(nameOf(id))}
                onClick={() => onChange(value.filter((_, at) => at !== index))}
              >
                ×
              </button>
            </li>
          ))}
        </ol>
      )}
      {Object.keys(options).length > 0 && (
        <Choice label={words.add} options={options} value="" error={error} onPick={(id) => onChange([...value, id])} />
      )}
    </div>
  );
}
