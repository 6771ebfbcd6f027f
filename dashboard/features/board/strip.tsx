// The night strip of a zone: its calls from twelve hours ago to thirty-six ahead, and under it the margin against its limit.
import type { BoardZoneBody } from "#contract/board.ts";
import { showChance, showDifference } from "../../units/show.ts";
import { localHours } from "../../units/zone-time.ts";
import { textWidthPx } from "../../ui/text-width.ts";
import { letterScale, type Size, useSize } from "../../ui/use-size.ts";
import { useVoice } from "../../ui/voice.tsx";
import {
  carriesOn,
  fadeOf,
  fanPath,
  linePath,
  runsOf,
  type Span,
  spanAround,
  type Stretch,
  stretchesOf,
  tideY,
  xOf,
} from "./geometry.ts";

const BAR_TOP = 4;
const BAR_PX = 36;
const TIDE_TOP = BAR_TOP + BAR_PX + 10;
const TIDE_PX = { least: 52, most: 140 };
const TAG_FONT = "700 13px";
const LIKE: { size: Size | null } = { size: null };

interface Props {
  readonly item: BoardZoneBody;
  /** Up to when the server has spoken, site time. */
  readonly saidMs: number;
}

export function Strip({ item, saidMs }: Props) {
  const voice = useVoice();
  const size = useSize<HTMLDivElement>(640, TIDE_TOP + TIDE_PX.least, LIKE);
  const scale = letterScale();
  const widthPx = size.widthPx / scale;
  const heightPx = size.heightPx / scale;
  const tidePx = Math.min(TIDE_PX.most, Math.max(TIDE_PX.least, heightPx - TIDE_TOP - 4));
  const height = TIDE_TOP + tidePx + 2;
  const span = spanAround(voice.nowMs, widthPx);
  const nowX = xOf(voice.nowMs, span);
  const stretches = stretchesOf(item, saidMs, span);
  return (
    <div className="strip" ref={size.ref}>
      <svg
        width={size.widthPx}
        height={height * scale}
        viewBox={`0 0 ${widthPx} ${height}`}
        role="img"
        aria-label={voice.text.board.stripLabel(item.zone.name)}
      >
        <g transform={`translate(0 ${BAR_TOP})`}>
          {stretches.map((stretch) => (
            <Fill key={`${stretch.kind}${stretch.fromMs}`} stretch={stretch} span={span} />
          ))}
          {runsOf(stretches).map((run) => (
            <Edge key={`${run.kind}${run.fromMs}`} run={run} span={span} />
          ))}
          {stretches.map((stretch, index) => (
            <Tag
              key={`${stretch.kind}${stretch.fromMs}`}
              stretch={stretch}
              goesOn={carriesOn(stretch, stretches[index - 1])}
              span={span}
            />
          ))}
        </g>
        <g transform={`translate(0 ${TIDE_TOP})`}>
          <Tide item={item} span={span} heightPx={tidePx} />
        </g>
        {localHours(span.fromMs, span.toMs, 24, voice.clock.timezone).map((atMs) => (
          <line
            key={atMs}
            className="midnight"
            x1={xOf(atMs, span)}
            x2={xOf(atMs, span)}
            y1={BAR_TOP + BAR_PX}
            y2={height}
          />
        ))}
        <line className="now-halo" x1={nowX} x2={nowX} y1={0} y2={height} />
        <line className="now-line" x1={nowX} x2={nowX} y1={0} y2={height} />
      </svg>
    </div>
  );
}

function Fill({ stretch, span }: { readonly stretch: Stretch; readonly span: Span }) {
  if (stretch.call === null) return null;
  const x = xOf(stretch.fromMs, span);
  const width = xOf(stretch.toMs, span) - x;
  const fade = stretch.kind === "ahead" ? fadeOf(stretch.chance) : 0;
  return (
    <g className={`bar bar-${stretch.call} bar-${stretch.kind}`}>
      <rect x={x} y={0} width={width} height={BAR_PX} className="bar-fill" fill={`url(#fill-${stretch.call})`} />
      {fade > 0 && <rect x={x} y={0} width={width} height={BAR_PX} fill={`url(#fade-${fade})`} />}
    </g>
  );
}

function Edge({ run, span }: { readonly run: Stretch; readonly span: Span }) {
  const x = xOf(run.fromMs, span);
  const width = Math.max(0, xOf(run.toMs, span) - x - 2);
  if (run.call === null) return <rect className="bar bar-blind" x={x + 1} y={1} width={width} height={BAR_PX - 2} />;
  return (
    <g className={`bar bar-${run.call} bar-${run.kind}`}>
      <rect x={x + 1} y={1} width={width} height={BAR_PX - 2} className="bar-edge" />
    </g>
  );
}

interface TagProps {
  readonly stretch: Stretch;
  /** It carries on the call before it: only its lower chance is news. */
  readonly goesOn: boolean;
  readonly span: Span;
}

function Tag({ stretch, goesOn, span }: TagProps) {
  const { text, clock, nowMs } = useVoice();
  if (stretch.call === null || stretch.kind !== "ahead" || stretch.chance >= 0.995) return null;
  const x = xOf(stretch.fromMs, span);
  const width = xOf(stretch.toMs, span) - x;
  const chance = showChance(stretch.chance);
  const at = clock.time(stretch.fromMs);
  // What begins now has its word at the left already.
  const tags =
    goesOn || stretch.fromMs <= nowMs + 60_000
      ? [chance]
      : [`${text.words[stretch.call]} ${at} · ${chance}`, `${at} · ${chance}`, chance];
  const tag = tags.find((candidate) => textWidthPx(candidate, TAG_FONT) + 26 < width);
  if (tag === undefined) return null;
  return (
    <>
      <rect className="tag" x={x + 8} y={8} width={textWidthPx(tag, TAG_FONT) + 10} height={BAR_PX - 16} rx={2} />
      <text className="tag-text" x={x + 13} y={BAR_PX / 2 + 4.5}>
        {tag}
      </text>
    </>
  );
}

function Tide({
  item,
  span,
  heightPx,
}: {
  readonly item: BoardZoneBody;
  readonly span: Span;
  readonly heightPx: number;
}) {
  const { text, units } = useVoice();
  const tide = { heightPx, limitK: item.marginLimitK ?? 3 };
  const { pastMargin, outlook } = item;
  const limitY = tideY(tide.limitK, tide);
  const aheadMs = outlook === null ? 0 : Date.parse(outlook.from);
  return (
    <>
      <rect className="tide-below" x={0} y={limitY} width={span.widthPx} height={heightPx - limitY} />
      <rect fill="url(#fill-below)" x={0} y={limitY} width={span.widthPx} height={heightPx - limitY} />
      <line className="tide-limit" x1={0} x2={span.widthPx} y1={limitY} y2={limitY} />
      {outlook !== null && (
        <>
          <path
            className="tide-fan"
            d={fanPath(aheadMs, outlook.stepS * 1000, outlook.marginK.q10, outlook.marginK.q90, span, tide)}
          />
          <path className="tide-mid" d={linePath(aheadMs, outlook.stepS * 1000, outlook.marginK.q50, span, tide)} />
        </>
      )}
      <path
        className="tide-past"
        d={linePath(Date.parse(pastMargin.from), pastMargin.stepS * 1000, pastMargin.marginK, span, tide)}
      />
      {item.marginLimitK !== null && (
        <text className="tide-text" x={4} y={limitY + 13}>
          {text.board.limit} {showDifference(item.marginLimitK, units)}
        </text>
      )}
    </>
  );
}
