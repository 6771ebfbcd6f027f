// Neighbours compared: every pair of one kind, now and over the last day, with their distance.
import type { PairBody } from "#contract/second-opinion.ts";
import { opinionsText } from "../../text/opinions.ts";
import { useVoice } from "../../ui/voice.tsx";

import { showLength, showOffset } from "./amounts.ts";

export function Neighbours({ pairs }: { readonly pairs: readonly PairBody[] }) {
  const { text, units } = useVoice();
  const words = opinionsText(text);
  if (pairs.length === 0) return <p>{words.noPairs}</p>;
  const difference = (of: PairBody["of"], value: number | null) =>
    value === null ? words.unknown : showOffset(of, value, units);
  return (
    <table className="pairs">
      <thead>
        <tr>
          <th scope="col">{words.pair}</th>
          <th scope="col">{words.apart}</th>
          <th scope="col">{words.now}</th>
          <th scope="col">{words.day}</th>
        </tr>
      </thead>
      <tbody>
        {pairs.map(({ of, a, b, apartM, now, dayMedian }) => (
          <tr key={`${a} ${b}`}>
            <th scope="row">
              {words.of[of]} {a} − {b}
            </th>
            <td>{apartM === null ? words.unknown : showLength(apartM, units)}</td>
            <td>{difference(of, now)}</td>
            <td>{difference(of, dayMedian)}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}
