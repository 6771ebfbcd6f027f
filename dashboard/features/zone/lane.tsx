// The lane above the chart on the same time axis: the recoat window as a bar, the dew-sensitive hours as a bracket, journal marks.
import type { BoardZoneBody } from "#contract/board.ts";
import type { EntryBody } from "#contract/journal.ts";
import { zoneText } from "../../text/zone.ts";
import { journalText } from "../../text/journal.ts";
import { textWidthPx } from "../../ui/text-width.ts";
import { useVoice } from "../../ui/voice.tsx";

export const CHART_LEFT_PX = 56;
export const CHART_RIGHT_PX = 48;
const ROW_PX = 26;
const FONT = "400 13px";

interface Props {
  readonly item: BoardZoneBody;
  readonly entries: readonly EntryBody[];
  readonly fromMs: number;
  readonly toMs: number;
  readonly widthPx: number;
}

/** Puts labels on as few lines as they need without touching; what finds no room on three lines goes without. */
export function placeLabels(
  marks: readonly { readonly x: number; readonly widthPx: number }[],
  lines: number,
): (number | null)[] {
  const ends = Array.from({ length: lines }, () => Number.NEGATIVE_INFINITY);
  return marks.map(({ x, widthPx }) => {
    const line = ends.findIndex((end) => x > end + 6);
    if (line === -1) return null;
    ends[line] = x + widthPx;
    return line;
  });
}

export function Lane({ item, entries, fromMs, toMs, widthPx }: Props) {
  const { text, clock, nowMs } = useVoice();
  const inner = widthPx - CHART_LEFT_PX - CHART_RIGHT_PX;
  const at = (atMs: number) => CHART_LEFT_PX + Math.min(1, Math.max(0, (atMs - fromMs) / (toMs - fromMs))) * inner;
  const { window, film } = item.call;
  const when = (iso: string) => clock.when(Date.parse(iso), nowMs);
  const marks = entries
    // Mixes are many and stand on the material page.
    .filter(
      (entry) =>
        entry.did !== "undone" &&
        entry.did !== "mixed" &&
        Date.parse(entry.at) >= fromMs &&
        Date.parse(entry.at) <= toMs,
    )
    .sort((a, b) => Date.parse(a.at) - Date.parse(b.at))
    .map((entry) => {
      const name = journalText(text).did[entry.did];
      return { id: entry.id ?? entry.at, name, x: at(Date.parse(entry.at)), widthPx: textWidthPx(name, FONT) + 10 };
    });
  const lines = placeLabels(
    marks.map((mark) => ({ ...mark, widthPx: mark.widthPx + 4 })),
    3,
  );
  const markLines = marks.length === 0 ? 0 : Math.max(...lines.map((line) => line ?? 0)) + 1;
  const sensitive =
    film === null || film.dewSafeAt === null
      ? null
      : { from: at(Date.parse(film.pouredFrom)), to: at(Date.parse(film.dewSafeAt)) };
  // A film that nothing follows has no recoat window to keep.
  const closes = window.closesAt === null ? Number.POSITIVE_INFINITY : Date.parse(window.closesAt);
  // A window that closes before it opens is none; the race of film and window tells of it.
  const lost = window.opensAt !== null && Date.parse(window.opensAt) >= closes;
  const opened = window.opensAt === null || lost || item.call.nextCoat === null ? null : Date.parse(window.opensAt);
  const bar =
    opened === null
      ? null
      : { from: at(opened), to: at(window.closesAt === null ? toMs : Date.parse(window.closesAt)) };
  const sensitiveY = markLines * 20 + 6;
  const barY = sensitiveY + (sensitive === null ? 0 : ROW_PX);
  const height = barY + (bar === null ? 0 : ROW_PX + 4);
  const words = [
    ...(window.opensAt === null || lost ? [] : [zoneText(text).opens(when(window.opensAt))]),
    ...(window.closesAt === null ? [] : [zoneText(text).closes(when(window.closesAt))]),
  ].join(", ");
  const full = `${zoneText(text).window}: ${words}`;
  const barWords = textWidthPx(full, "700 13px") < inner ? full : words;
  const label = (x: number, y: number, said: string, name: string) => {
    const fits = x + textWidthPx(said, FONT) < widthPx;
    return (
      <text className={name} x={fits ? x : widthPx - 2} y={y} textAnchor={fits ? "start" : "end"}>
        {said}
      </text>
    );
  };
  return (
    <svg
      className="lane"
      width={widthPx}
      height={height}
      viewBox={`0 0 ${widthPx} ${height}`}
      role="img"
      aria-label={`${zoneText(text).window}: ${words === "" ? zoneText(text).none : words}`}
    >
      {marks.map((mark, index) => {
        const line = lines[index] ?? null;
        const y = line === null ? 0 : line * 20;
        return (
          <g key={mark.id}>
            <line className="lane-mark" x1={mark.x} x2={mark.x} y1={y} y2={height} />
            {line !== null && label(mark.x + 5, y + 13, mark.name, "lane-text")}
          </g>
        );
      })}
      {sensitive !== null && sensitive.to > CHART_LEFT_PX && (
        <g>
          <path
            className="lane-bracket"
            d={`M${sensitive.from} ${sensitiveY + 22}V${sensitiveY + 17}H${sensitive.to}V${sensitiveY + 22}`}
          />
          {label(Math.max(CHART_LEFT_PX, sensitive.from) + 3, sensitiveY + 13, zoneText(text).sensitive, "lane-text")}
        </g>
      )}
      {bar !== null && bar.to > CHART_LEFT_PX && (
        <g>
          <rect className="lane-window" x={bar.from} y={barY + 18} width={Math.max(2, bar.to - bar.from)} height={8} />
          {label(Math.max(CHART_LEFT_PX, bar.from) + 3, barY + 14, barWords, "lane-text lane-strong")}
        </g>
      )}
    </svg>
  );
}
