// The drawing of the race: film, window and the pour that must fit, each with its sign, pattern and word.
import { aheadText } from "../../text/ahead.ts";
import { showDuration, showPercent } from "../../units/show.ts";
import { localHours } from "../../units/zone-time.ts";
import { textWidthPx } from "../../ui/text-width.ts";
import { letterScale, useSize } from "../../ui/use-size.ts";
import { useVoice } from "../../ui/voice.tsx";
import { fadingOf, type Race, type SoftBar } from "./race.ts";

const AXIS_PX = 24;
const LANE_PX = 62;
const BAR_PX = 28;
const TEXT_PX = 24;
const FONT = "700 14px";
const TICK_ROOM_PX = 62;

/** A film on its slab, a frame with its gap, a tick, a cross. */
const SIGNS = {
  film: <path d="M1 12h14M1 7h14" stroke="currentColor" strokeWidth="3" />,
  window: <path d="M2 1v14M14 1v14M2 8h4M10 8h4" stroke="currentColor" strokeWidth="2.4" fill="none" />,
  fits: <path d="M2 8l4 5 8-11" stroke="currentColor" strokeWidth="2.6" fill="none" />,
  fitsNot: <path d="M3 3l10 10M13 3L3 13" stroke="currentColor" strokeWidth="2.6" />,
} as const;

interface Props {
  readonly race: Race;
  /** The drawing in words. */
  readonly said: string;
}

export function RaceDrawing({ race, said }: Props) {
  const { text, clock, nowMs } = useVoice();
  const words = aheadText(text).race;
  const size = useSize<HTMLDivElement>(640, 0);
  const scale = letterScale();
  const width = size.widthPx / scale;
  const height = AXIS_PX + 3 * LANE_PX;
  const x = (atMs: number) =>
    Math.round(Math.min(1, Math.max(0, (atMs - race.fromMs) / (race.toMs - race.fromMs))) * width * 10) / 10;
  const at = (atMs: number) => clock.when(atMs, nowMs);
  const hours = (race.toMs - race.fromMs) / 3_600_000;
  const stepH = [1, 2, 3, 6, 12].find((step) => (width * step) / hours > TICK_ROOM_PX) ?? 12;
  const nowX = x(nowMs);
  const filmEnd =
    race.film.endMs === null
      ? words.hardLater
      : race.hard
        ? words.hardSince(at(race.film.endMs))
        : words.hard(at(race.film.endMs));
  const earned = race.earned === null || race.hard ? "" : `, ${words.earned(showPercent(race.earned * 100))}`;
  const windowEnd = race.window.endMs === null ? words.closesLater : words.closes(at(race.window.endMs));
  // Written last, over the lines: a word must be read.
  const labels = [
    { kind: "film", atX: 0, sign: SIGNS.film, said: `${words.film}: ${filmEnd}${earned}` },
    { kind: "window", atX: 0, sign: SIGNS.window, said: `${words.window}: ${windowEnd}` },
    ...(race.pour === null
      ? []
      : [
          {
            kind: race.pour.fits ? "pour" : "pour-late",
            atX: x(race.pour.fromMs),
            sign: race.pour.fits ? SIGNS.fits : SIGNS.fitsNot,
            said: `${words.pour} ${words.takes(showDuration(race.pourMs))}: ${race.pour.fits ? words.fits : words.fitsNot}`,
          },
        ]),
  ];
  return (
    <div className="race-room" ref={size.ref}>
      <svg width={size.widthPx} height={height * scale} viewBox={`0 0 ${width} ${height}`} role="img" aria-label={said}>
        <defs>
          <pattern id="race-film" width="5" height="8" patternUnits="userSpaceOnUse">
            <rect width="5" height="8" className="ink-paper" />
            <rect width="2.8" height="8" className="race-ink-film" />
          </pattern>
          <pattern id="race-window" width="8" height="6" patternUnits="userSpaceOnUse">
            <rect width="8" height="6" className="ink-paper" />
            <rect width="8" height="3.4" className="race-ink-window" />
          </pattern>
        </defs>
        {localHours(race.fromMs, race.toMs, stepH, clock.timezone).map((tickMs) => (
          <g key={tickMs}>
            <line className="race-grid" x1={x(tickMs)} x2={x(tickMs)} y1={AXIS_PX - 5} y2={height} />
            {x(tickMs) > 24 && x(tickMs) < width - 24 && Math.abs(x(tickMs) - nowX) > 46 && (
              <text className="race-tick" x={x(tickMs)} y={13} textAnchor="middle">
                {clock.tick(tickMs)}
              </text>
            )}
          </g>
        ))}
        <Lane y={AXIS_PX + TEXT_PX} kind="film" bar={race.film} x={x} />
        <Lane y={AXIS_PX + LANE_PX + TEXT_PX} kind="window" bar={race.window} x={x} />
        {race.pour !== null && <PourBar y={AXIS_PX + 2 * LANE_PX + TEXT_PX} pour={race.pour} x={x} />}
        {race.window.endMs !== null && (
          <line className="race-closes" x1={x(race.window.endMs)} x2={x(race.window.endMs)} y1={AXIS_PX} y2={height} />
        )}
        <line className="now-halo" x1={nowX} x2={nowX} y1={AXIS_PX - 6} y2={height} />
        <line className="now-line" x1={nowX} x2={nowX} y1={AXIS_PX - 6} y2={height} />
        <text
          className="race-tick race-now"
          x={nowX}
          y={13}
          textAnchor={nowX < 20 ? "start" : nowX > width - 20 ? "end" : "middle"}
        >
          {words.now}
        </text>
        {labels.map(({ kind, atX, sign, said: label }, index) => (
          <g
            key={kind}
            className={`race-label race-${kind}`}
            transform={`translate(${Math.max(0, Math.min(atX, width - textWidthPx(label, FONT) - 28))} ${AXIS_PX + index * LANE_PX + 3})`}
          >
            {sign}
            <text x={22} y={13}>
              {label}
            </text>
          </g>
        ))}
      </svg>
    </div>
  );
}

type Place = (atMs: number) => number;

function Lane({ y, kind, bar, x }: { y: number; kind: "film" | "window"; bar: SoftBar; x: Place }) {
  const from = x(bar.fromMs);
  const solidTo = x(bar.solidToMs);
  return (
    <g className={`race-${kind}`}>
      <rect x={from} y={y} width={Math.max(0, x(bar.goneMs) - from)} height={BAR_PX} fill={`url(#race-${kind})`} />
      {fadingOf(bar).map((piece) => (
        <rect
          key={piece.fade}
          x={x(piece.fromMs)}
          y={y}
          width={Math.max(0, x(piece.toMs) - x(piece.fromMs)) + 0.2}
          height={BAR_PX}
          fill={`url(#fade-${piece.fade})`}
        />
      ))}
      <path className="race-edge" d={`M${solidTo} ${y}H${from}V${y + BAR_PX}H${solidTo}`} />
      {bar.endMs !== null && (
        <line className="race-end" x1={x(bar.endMs)} x2={x(bar.endMs)} y1={y - 4} y2={y + BAR_PX + 4} />
      )}
    </g>
  );
}

function PourBar({ y, pour, x }: { y: number; pour: NonNullable<Race["pour"]>; x: Place }) {
  const from = x(pour.fromMs);
  const length = Math.max(4, x(pour.toMs) - from);
  const high = BAR_PX - 8;
  return (
    <g className={pour.fits ? "race-pour" : "race-pour-late"}>
      <rect x={from} y={y} width={length} height={high} className="race-pour-bar" />
      {!pour.fits && (
        <path
          className="race-pour-cross"
          d={`M${from} ${y}l${length} ${high}M${from} ${y + high}l${length} ${-high}`}
        />
      )}
    </g>
  );
}
