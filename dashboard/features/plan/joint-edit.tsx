// A zone split at a joint: two taps give the line, the parts get names, areas and the probes that lie in them.
import { useState } from "react";
import type { NodeStateBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import type { PlanBody } from "#contract/plan.ts";
import type { ZoneBody } from "#contract/zone.ts";
import { areaM2, distanceM, isInside, type Outline, type PlanPoint } from "#core/plan/polygon.ts";
import { splitByLine } from "#core/plan/split.ts";
import { idFrom } from "../../data/id-from.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { planText } from "../../text/plan.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { showArea } from "../../units/show.ts";
import { paperOf } from "./drawing.ts";
import { meant } from "./outline-edit.tsx";
import { type Paper, pointsOf, Surface } from "./surface.tsx";
import { ZoneShape } from "./zone-shape.tsx";

interface Props {
  readonly site: string;
  readonly zone: ZoneBody & { readonly outline: Outline };
  readonly zones: readonly ZoneBody[];
  readonly nodes: readonly NodeStateBody[];
  readonly plan: PlanBody | null;
  readonly by: string | null;
  readonly nowMs: number;
  readonly onWrite: (entry: EntryBody) => void;
  readonly onCancel: () => void;
}

interface Probe {
  readonly name: string;
  readonly shown: string;
  /** Index of the part it lies in; null where nobody has said where it lies. */
  readonly part: number | null;
}

/** Slab probes of the nodes of a zone, and the part in which each lies. */
function probesIn(zone: string, nodes: readonly NodeStateBody[], parts: readonly Outline[]): Probe[] {
  return nodes
    .filter(({ node, retired }) => node.zone === zone && retired !== true)
    .flatMap(({ node }) =>
      Object.entries(node.probes ?? { slab: {} })
        .filter(([quantity]) => quantity.startsWith("slab"))
        .map(([quantity, { place, xM, yM }]) => {
          const at = xM === undefined || yM === undefined ? null : { xM, yM };
          const part = at === null ? -1 : parts.findIndex((outline) => isInside(outline, at));
          return {
            name: `${node.id}/${quantity}`,
            shown: place ?? `${node.id} ${quantity}`,
            part: part < 0 ? null : part,
          };
        }),
    );
}

export function JointEdit({ site, zone, zones, nodes, plan, by, nowMs, onWrite, onCancel }: Props) {
  const { text, units } = useVoice();
  const words = planText(text);
  const [line, setLine] = useState<readonly PlanPoint[]>([]);
  const [names, setNames] = useState<Readonly<Record<number, string>>>({});
  const [moved, setMoved] = useState<Readonly<Record<string, number>>>({});
  const [a, b] = line;
  const parts = a === undefined || b === undefined ? [zone.outline] : splitByLine(zone.outline, a, b);
  const cut = parts.length > 1;
  // Where the area was typed the parts share it as they share the drawn one.
  const scale = zone.areaM2 / areaM2(zone.outline);
  const areaOf = (outline: Outline) => Math.round(areaM2(outline) * scale * 100) / 100;
  const nameOf = (index: number) => names[index] ?? `${zone.name} ${String.fromCharCode(65 + index)}`;
  const probes = probesIn(zone.id, nodes, parts);
  const partOf = (probe: Probe) => moved[probe.name] ?? probe.part;
  const bare = parts.findIndex((_, index) => !probes.some((probe) => partOf(probe) === index));
  const unplaced = probes.filter((probe) => partOf(probe) === null);
  const tap = (point: PlanPoint, paper: Paper) => {
    const to = meant(point, [zone.outline], paper);
    setMoved({});
    setLine(line.length === 1 && distanceM(line[0] as PlanPoint, to) > 0.05 ? [line[0] as PlanPoint, to] : [to]);
  };
  const write = () => {
    const taken = zones.map(({ id }) => id);
    const into = parts.map((outline, index) => {
      const id = idFrom(nameOf(index), taken, "part");
      taken.push(id);
      const own = probes.filter((probe) => partOf(probe) === index).map(({ name }) => name);
      return {
        ...{
          id,
          name: nameOf(index).trim() || id,
          areaM2: areaOf(outline),
          outline: outline.map((point) => ({ ...point })),
        },
        ...(own.length === 0 ? {} : { probes: own }),
      };
    });
    onWrite({ did: "split", at: new Date(nowMs).toISOString(), zone: zone.id, into, ...(by === null ? {} : { by }) });
  };
  return (
    <section className="plan-edit-room" aria-label={words.jointTitle(zone.name)}>
      <h2>{words.jointTitle(zone.name)}</h2>
      <p className="field-help">{words.jointHelp}</p>
      <Surface
        label={words.paper}
        size={paperOf(
          plan,
          zones.flatMap(({ outline }) => (outline === undefined ? [] : [outline])),
        )}
        plan={plan}
        photoHref={(photo) => setUpApi.photoHref(site, photo)}
        onTap={tap}
      >
        {(paper) => (
          <>
            {parts.map((outline, index) => (
              <ZoneShape
                key={index}
                outline={outline}
                name={cut ? nameOf(index) : zone.name}
                paper={paper}
                kind={cut && index % 2 === 1 ? "chosen" : "still"}
              />
            ))}
            {line.length === 2 && <polyline className="plan-joint" points={pointsOf(line)} />}
            {line.map((point, index) => (
              <circle key={index} className="plan-corner" cx={point.xM} cy={point.yM} r={7 * paper.mPerPx} />
            ))}
          </>
        )}
      </Surface>
      <p className="plan-said" role="status">
        {cut ? (
          <b>{words.jointParts(parts.length)}</b>
        ) : line.length === 2 ? (
          <b className="plan-wrong">{words.jointMisses}</b>
        ) : (
          words.jointTaps(line.length)
        )}
      </p>
      {cut &&
        parts.map((outline, index) => (
          <Field
            key={index}
            label={words.jointPart(index + 1, showArea(areaOf(outline), units))}
            type="text"
            value={nameOf(index)}
            onType={(name) => setNames({ ...names, [index]: name })}
          />
        ))}
      {cut &&
        probes.map((probe) => (
          <Choice
            key={probe.name}
            label={words.jointProbe(probe.shown)}
            options={Object.fromEntries(parts.map((_, index) => [String(index), nameOf(index)]))}
            value={String(partOf(probe) ?? "")}
            onPick={(picked) => setMoved({ ...moved, [probe.name]: Number(picked) })}
          />
        ))}
      {cut && probes.length > 0 && bare >= 0 && unplaced.length === 0 && (
        <p className="plan-warn">{words.jointBare(nameOf(bare))}</p>
      )}
      {cut && <p className="plan-warn">{words.jointForEver}</p>}
      <div className="plan-tools">
        <button type="button" className="button button-main" disabled={!cut || unplaced.length > 0} onClick={write}>
          {words.jointWrite}
        </button>
        <button type="button" className="button" onClick={onCancel}>
          {words.cancel}
        </button>
      </div>
    </section>
  );
}
