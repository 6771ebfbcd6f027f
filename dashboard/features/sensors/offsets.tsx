// Each probe against the hand meter: the newest offset of each quantity, and what came before.
import type { OpinionBody } from "#contract/second-opinion.ts";
import { opinionsText } from "../../text/opinions.ts";
import { useVoice } from "../../ui/voice.tsx";
import { showBound, showOffset, showValue } from "./amounts.ts";

function Line({ opinion }: { readonly opinion: OpinionBody }) {
  const { text, units, clock, nowMs } = useVoice();
  const words = opinionsText(text);
  const { of, offset, probeSaid, handSaid, bound, handBound, within, hopeful } = opinion;
  // Too damp and too dry of a chip in the sun say nothing of the margin by themselves.
  const judged = of === "slab" || of === "dew";
  const said = within ? "agrees" : hopeful ? "hopeful" : judged ? "strict" : "off";
  return (
    <p className={`opinion opinion-${said}`}>
      <b>
        {words.of[of]} {showOffset(of, offset, units)}, {words[said]}
      </b>{" "}
      <span>
        {words.said(showValue(of, probeSaid, units), showValue(of, handSaid, units))};{" "}
        {words.bound(showBound(of, bound, units), showBound(of, handBound, units))}
      </span>{" "}
      <span>
        {words.meter(opinion.instrument, opinion.by, clock.when(Date.parse(opinion.at), nowMs))}
        {opinion.calibratedOn !== null && `, ${words.calibrated(opinion.calibratedOn)}`}
      </span>
    </p>
  );
}

export function Offsets({ opinions }: { readonly opinions: readonly OpinionBody[] }) {
  const { text } = useVoice();
  const words = opinionsText(text);
  if (opinions.length === 0) return <p>{words.noHand}</p>;
  const probes = [...new Set(opinions.map(({ probe }) => probe))];
  const key = ({ entry, of }: OpinionBody) => `${entry} ${of}`;
  return (
    <ul className="opinion-list">
      {probes.map((probe) => {
        const own = opinions.filter((one) => one.probe === probe);
        // Newest first: the first of each quantity is the one that stands.
        const newest = own.filter((one) => own.find(({ of }) => of === one.of) === one);
        const earlier = own.filter((one) => !newest.includes(one));
        return (
          <li key={probe}>
            <h5>{probe}</h5>
            {newest.map((one) => (
              <Line key={key(one)} opinion={one} />
            ))}
            {earlier.length > 0 && (
              <details>
                <summary>{words.earlier(earlier.length)}</summary>
                {earlier.map((one) => (
                  <Line key={key(one)} opinion={one} />
                ))}
              </details>
            )}
          </li>
        );
      })}
    </ul>
  );
}
