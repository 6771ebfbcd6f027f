// Where a node speaks for and where its probes lie, with advice for each place. Nothing has to be typed.
import type { NodeBody } from "#contract/zone.ts";
import { sensorsText } from "../../text/sensors.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";

export interface Places {
  /** "" = outdoors. */
  readonly zone: string;
  readonly places: Readonly<Record<string, string>>;
}

interface Props {
  readonly zones: readonly { readonly id: string; readonly name: string }[];
  readonly quantities: readonly string[];
  readonly value: Places;
  readonly onChange: (value: Places) => void;
}

/** Only slab probes are laid; the contract's own reader would bring the whole schema library into the page. */
const isSlabQuantity = (quantity: string) => /^slab(\.[0-9]{1,3})?$/.test(quantity);

const KINDS = ["centre", "edge", "sun", "other"] as const;
type Kind = (typeof KINDS)[number];

export function probesOf(quantities: readonly string[], { places }: Places): NonNullable<NodeBody["probes"]> {
  return Object.fromEntries(
    quantities.filter(isSlabQuantity).map((quantity) => {
      const place = places[quantity]?.trim() ?? "";
      return [quantity, place === "" ? {} : { place }];
    }),
  );
}

export function PlaceForm({ zones, quantities, value, onChange }: Props) {
  const { text } = useVoice();
  const words = sensorsText(text);
  const outdoors = value.zone === "";
  const kindOf = (place: string): Kind =>
    KINDS.find((kind) => kind !== "other" && words.places[kind] === place) ?? "other";
  const put = (quantity: string, place: string) =>
    onChange({ ...value, places: { ...value.places, [quantity]: place } });
  return (
    <>
      <Choice
        label={words.zone}
        options={Object.fromEntries([
          ...zones.map(({ id, name }) => [id, name] as const),
          ["", words.outdoors] as const,
        ])}
        value={value.zone}
        onPick={(zone) => onChange({ ...value, zone })}
      />
      {outdoors && <p className="field-help">{words.advice.outdoors}</p>}
      {!outdoors &&
        quantities.filter(isSlabQuantity).map((quantity) => {
          const place = value.places[quantity] ?? "";
          const kind = kindOf(place);
          return (
            <div key={quantity}>
              <Choice
                label={words.probe(quantity)}
                options={words.places}
                value={kind}
                onPick={(picked) => put(quantity, picked === "other" ? "" : words.places[picked as Kind])}
              />
              <p className="field-help">{words.advice[kind]}</p>
              {kind === "other" && (
                <Field label={words.placeName} type="text" value={place} onType={(typed) => put(quantity, typed)} />
              )}
            </div>
          );
        })}
      {!outdoors && <p className="field-help">{words.advice.how}</p>}
    </>
  );
}
