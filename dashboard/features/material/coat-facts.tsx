// What one coat takes, as figures with their names, and what keeps it from being reckoned.
import type { CoatTakeoffBody } from "#contract/takeoff.ts";
import { materialText } from "../../text/material.ts";
import { plain, showDuration } from "../../units/show.ts";
import { showHours, showRate, showUse, showVolume } from "../../units/show-material.ts";
import { useVoice } from "../../ui/voice.tsx";

interface Props {
  readonly coat: CoatTakeoffBody;
  /** Where its sheet is typed; null: whoever looks may not plan. */
  readonly sheetHref: string | null;
  /** All there is, or only what is ordered and planned by. */
  readonly whole: boolean;
}

export function CoatFacts({ coat, sheetHref, whole }: Props) {
  const { text, units } = useVoice();
  const words = materialText(text);
  const { batches } = coat;
  const biggestL = batches === null ? null : Math.max(...batches.rows.map(({ volumeL }) => volumeL));
  const facts: readonly (readonly [string, string | null])[] = [
    [words.volume, coat.needL === null ? null : showVolume(coat.needL, units)],
    [
      words.kits,
      coat.kits === null || coat.kitL === null ? null : words.kitsOf(coat.kits, showVolume(coat.kitL, units)),
    ],
    [
      words.batches,
      batches === null || biggestL === null ? null : words.batchesOf(batches.rows.length, showVolume(biggestL, units)),
    ],
    [words.laying, showHours(coat.placeH)],
    [
      words.people,
      coat.people === null
        ? null
        : coat.mixers === null
          ? plain(coat.people)
          : `${plain(coat.people)}, ${words.mixers(coat.mixers)}`,
    ],
    [words.personHours, coat.personH === null ? null : showHours(coat.personH)],
    ...(whole
      ? ([
          [words.use, coat.useLPerM2 === null ? null : showUse(coat.useLPerM2, units)],
          [words.cap, batches === null ? null : showVolume(batches.capL, units)],
          [words.life, batches === null ? null : showDuration(batches.lifeMin * 60_000)],
          [words.rate, showRate(coat.placeM2PerH, units)],
          [
            words.abrade,
            coat.abrade === null ? null : words.hours(showHours(coat.abrade.fewest), showHours(coat.abrade.most)),
          ],
        ] as const)
      : []),
  ];
  return (
    <>
      <dl className="coat-facts">
        {facts
          .filter(([, value]) => value !== null)
          .map(([name, value]) => (
            <div key={name}>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </div>
          ))}
      </dl>
      <CoatNotes coat={coat} sheetHref={sheetHref} whole={whole} />
    </>
  );
}

function CoatNotes({ coat, sheetHref, whole }: Props) {
  const words = materialText(useVoice().text);
  const notes = [
    ...(coat.doubts.length > 0 ? [words.doubtful] : []),
    ...coat.doubts.map(({ reason }) => words.doubts[reason]),
    ...coat.missing.map((of) => words.missing[of]),
    ...(coat.batches?.lifeMin === 0 ? [words.tooHot] : coat.batches?.pourOutAtOnce === true ? [words.outAtOnce] : []),
    ...(coat.batches?.outrunsCrew === true ? [words.outruns] : []),
    ...(whole && coat.abrade !== null ? [words.rough] : []),
  ];
  if (notes.length === 0) return null;
  return (
    <ul className="coat-notes">
      {notes.map((note) => (
        <li key={note}>{note}</li>
      ))}
      {sheetHref !== null && coat.doubts.length + coat.missing.length > 0 && (
        <li>
          <a className="coat-sheet" href={sheetHref}>
            {words.openSheet}
          </a>
        </li>
      )}
    </ul>
  );
}
