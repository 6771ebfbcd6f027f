// What the client may do with the floor and not before when, and what to keep warm and shut until then.
import type { HandOverBody } from "#contract/hand-over.ts";
import { recordApi, type Tongue } from "../../data/record-api.ts";
import { recordText } from "../../text/record.ts";
import { showBoth } from "../../units/show.ts";
import { useVoice } from "../../ui/voice.tsx";
import { stamp, useWords } from "./record-words.ts";

export function HandOverView({ body, tongue }: { readonly body: HandOverBody; readonly tongue: Tongue }) {
  const voice = useVoice();
  const words = recordText(voice.text);
  const until = (at: string | null) => (at === null ? "" : words.until(stamp(at, voice)));
  if (body.film === null) return <p>{words.bare}</p>;
  return (
    <>
      <p className="field-help">{words.handHelp}</p>
      <dl className="record-facts">
        {body.uses.map((use) => (
          <div key={use.use}>
            <dt>{words.uses[use.use]}</dt>
            <dd>{useWords(use, voice)}</dd>
          </div>
        ))}
      </dl>
      {body.keepWarm !== null && (
        <p>{words.keepWarm(showBoth(body.keepWarm.slabMinC, "C", voice.units), until(body.keepWarm.until))}</p>
      )}
      {body.keepShut !== null && (
        <p>{words.keepShut(showBoth(body.keepShut.marginMinK, "K", voice.units), until(body.keepShut.until))}</p>
      )}
      <a
        className="button"
        href={recordApi.handOverPdfHref(body.site.id, body.zone.id, tongue)}
        target="_blank"
        rel="noopener"
      >
        {words.pdf}
      </a>
    </>
  );
}
