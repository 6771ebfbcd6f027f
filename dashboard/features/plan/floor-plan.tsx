// The calls on the floor plan, live: word, sign, pattern and colour as on the board; a tap on a zone leads to its page.
import type { BoardBody, BoardZoneBody } from "#contract/board.ts";
import type { Outline, PlanPoint } from "#core/plan/polygon.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { planText } from "../../text/plan.ts";
import { stripWords } from "../../text/sentence.ts";
import { CallWord, signOf } from "../../ui/call-word.tsx";
import { Glyph, type Sign } from "../../ui/glyph.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { showDuration } from "../../units/show.ts";
import { viewOf } from "./drawing.ts";
import { labelPlace } from "./label-place.ts";
import { NodeMark } from "./node-mark.tsx";
import { probesOf } from "./probes.ts";
import { type Paper, pointsOf, Surface } from "./surface.tsx";

const SILENT_MS = 1_800_000;

interface Props {
  readonly site: string;
  readonly board: BoardBody;
  readonly old: boolean;
  readonly hrefOf: (zone: string) => string;
  /** Where the plan is drawn; null for whoever may not. */
  readonly setUpHref: string | null;
}

function PlanZone({
  item,
  outline,
  probes,
  paper,
  old,
  href,
}: {
  readonly item: BoardZoneBody;
  readonly outline: Outline;
  readonly probes: readonly PlanPoint[];
  readonly paper: Paper;
  readonly old: boolean;
  readonly href: string;
}) {
  const { text } = useVoice();
  const sign: Sign = signOf(item.call);
  const word = text.words[item.call.call];
  const px = paper.mPerPx;
  const { point, label, heightPx } = labelPlace(item.zone.name, word, outline, probes, px);
  const [left, top] = [-(label.widthPx + 12) / 2, -heightPx / 2];
  const pattern = old || sign === "blind" ? "none" : `url(#fill-${item.call.call})`;
  const first = label.lines[0];
  return (
    <a className="plan-call" href={href} aria-label={`${word} ${item.zone.name}`}>
      {/* Patterns keep the size they have on the strips: the outline is drawn in pixels, and not in metres. */}
      <g transform={`scale(${px})`}>
        <polygon
          className={`plan-fill plan-fill-${old ? "blind" : sign}`}
          points={pointsOf(outline.map(({ xM, yM }) => ({ xM: xM / px, yM: yM / px })))}
          fill={pattern}
        />
      </g>
      <g className={`call-${sign}`} transform={`translate(${point.xM} ${point.yM}) scale(${px})`}>
        <rect className="plan-label" x={left} y={top} width={label.widthPx + 12} height={heightPx} rx="4" />
        <g transform={`translate(${first === undefined ? -12 : left + 6} ${top + 4})`}>
          <Glyph sign={sign} sizePx={24} />
        </g>
        {first !== undefined && (
          <text x={left + 36} y={top + 23} fontSize={first.sizePx} fontWeight={first.weight} fill="currentColor">
            {first.text}
          </text>
        )}
        {label.lines[1] !== undefined && (
          <text className="plan-label-name" x={0} y={top + 44} fontSize={label.lines[1].sizePx}>
            {/* The space is for whoever hears both lines as one. */}
            {` ${label.lines[1].text}`}
          </text>
        )}
      </g>
    </a>
  );
}

export function FloorPlan({ site, board, old, hrefOf, setUpHref }: Props) {
  const voice = useVoice();
  const { text, nowMs } = voice;
  const words = planText(text);
  const plan = useAsked(() => setUpApi.plan(site), site, "").value;
  const probes = probesOf(board.nodes);
  const drawn = board.zones.flatMap((item) =>
    item.zone.outline === undefined ? [] : [{ item, outline: item.zone.outline }],
  );
  return (
    <section className="plan-page" aria-label={words.title}>
      {drawn.length === 0 ? (
        <p className="empty">{words.nothingDrawn}</p>
      ) : (
        <Surface
          label={words.title}
          size={viewOf(
            plan,
            drawn.map(({ outline }) => outline),
          )}
          plan={plan}
          photoHref={(photo) => setUpApi.photoHref(site, photo)}
        >
          {(paper) => (
            <>
              {drawn.map(({ item, outline }) => (
                <PlanZone
                  key={item.zone.id}
                  {...{ item, outline, paper, old }}
                  probes={probes.flatMap(({ at }) => at ?? [])}
                  href={hrefOf(item.zone.id)}
                />
              ))}
              {probes.map(({ key, at, label, lastHeard }) =>
                at === null ? null : (
                  <NodeMark
                    key={key}
                    at={at}
                    label={
                      lastHeard === null
                        ? label
                        : `${label}, ${text.board.heard(showDuration(nowMs - Date.parse(lastHeard)))}`
                    }
                    chosen={false}
                    silent={lastHeard === null || nowMs - Date.parse(lastHeard) > SILENT_MS}
                    paper={paper}
                  />
                ),
              )}
            </>
          )}
        </Surface>
      )}
      {setUpHref !== null && (
        <div className="plan-tools">
          <a className="button" href={setUpHref}>
            {words.draw}
          </a>
        </div>
      )}
      <ul className="plan-list">
        {board.zones.map((item) => (
          <li key={item.zone.id}>
            <a href={hrefOf(item.zone.id)}>
              <span className="plan-list-name">{item.zone.name}</span>
              <CallWord call={item.call} old={old} />
              <span>{stripWords(item, voice).lead}</span>
              {item.zone.outline === undefined && <span className="field-help">{words.notDrawn}</span>}
            </a>
          </li>
        ))}
      </ul>
      {drawn.length > 0 && <p className="field-help">{words.nodeSigns}</p>}
    </section>
  );
}
