// The figures of a sheet that nobody has confirmed yet, and confirming it when they are those of the page.
import type { SheetBody } from "#contract/sheet.ts";
import { isStillStarter } from "#core/cure/sheet-starters.ts";
import { setUpText } from "../../text/set-up.ts";
import { useVoice } from "../../ui/voice.tsx";
import { showDifference, showDuration, showPercent, showTemperature } from "../../units/show.ts";

interface Props {
  readonly sheet: SheetBody;
  readonly href: string;
  readonly busy: boolean;
  readonly onConfirm: () => void;
}

export function SheetConfirm({ sheet, href, busy, onConfirm }: Props) {
  const { text, units } = useVoice();
  const words = setUpText(text);
  const { slabC, rhPct, dewMarginK } = sheet.limits;
  const [low, high] = slabC;
  const shown = (c: number | null) => (c === null ? "–" : showTemperature(c, units));
  const hours = (h: number | null) => (h === null ? "–" : showDuration(h * 3_600_000));
  return (
    <div className="set-up-warn">
      <p>{words.unconfirmed(sheet.name)}</p>
      <details>
        <summary className="set-up-summary">{words.figures(sheet.name)}</summary>
        <p>
          {words.figuresSlab} {shown(low)} … {shown(high)} · {words.figuresHumidity}{" "}
          {rhPct[1] === null ? "–" : showPercent(rhPct[1])} · {words.figuresMargin} {showDifference(dewMarginK, units)}
        </p>
        <table className="set-up-figures">
          <thead>
            <tr>
              <th>{words.figuresAt}</th>
              <th>{words.figuresFrom}</th>
              <th>{words.figuresUntil}</th>
            </tr>
          </thead>
          <tbody>
            {sheet.cure.map((row) => (
              <tr key={row.slabC}>
                <td>{shown(row.slabC)}</td>
                <td>{hours(row.recoatFromH)}</td>
                <td>{hours(row.recoatUntilH)}</td>
              </tr>
            ))}
          </tbody>
        </table>
        {isStillStarter(sheet) && (
          <p>
            <b>{words.stillInvented}</b>
          </p>
        )}
        <p className="set-up-ends">
          <button type="button" className="button" disabled={busy} onClick={onConfirm}>
            {words.confirmNow}
          </button>
          <a className="button" href={href}>
            {words.editSheet}
          </a>
        </p>
      </details>
    </div>
  );
}
