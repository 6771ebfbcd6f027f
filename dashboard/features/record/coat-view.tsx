// One coat on the screen: what was laid, whether its limits were met, who decided otherwise, and its files.
import { useState } from "react";
import type { CoatRecordBody } from "#contract/record.ts";
import { recordApi, type Tongue } from "../../data/record-api.ts";
import { recordText } from "../../text/record.ts";
import { showDuration } from "../../units/show.ts";
import { useVoice } from "../../ui/voice.tsx";
import { countsOf, number, stamp, whyWords } from "./record-words.ts";

const FIRST_CALLS = 8;

export function CoatView({ body, tongue }: { readonly body: CoatRecordBody; readonly tongue: Tongue }) {
  const voice = useVoice();
  const words = recordText(voice.text);
  const { pour, sheet, site, zone } = body;
  const { met, notMet, unknown } = countsOf(body.limits);
  const span = (from: string, to: string) => `${stamp(from, voice)} – ${stamp(to, voice)}`;
  const facts: readonly (readonly [string, string])[] = [
    [words.poured, span(pour.from, pour.to)],
    [words.by, pour.by ?? words.noName],
    [words.product, pour.product ?? sheet.sheet.name],
    [
      words.batches,
      pour.batches.map(({ part, number: of }) => (part === undefined ? of : `${part} ${of}`)).join(", ") || "–",
    ],
    [words.people, pour.people.join(", ") || "–"],
    [words.sheet, `${sheet.sheet.name}, ${words.version(sheet.version, stamp(sheet.since, voice))}`],
    [words.span, span(body.from, body.to)],
  ];
  const files = [
    [words.pdf, recordApi.pdfHref(site.id, zone.id, body.coat, tongue), false],
    [words.csv, recordApi.csvHref(site.id, zone.id, body.coat), true],
    [words.json, recordApi.jsonHref(site.id, zone.id, body.coat), true],
    [words.night, recordApi.nightHref(site.id, zone.id), true],
  ] as const;
  return (
    <div className="record-coat">
      {!body.complete && <p className="record-note">{words.running}</p>}
      <nav className="record-files" aria-label={words.files}>
        {files.map(([name, href, saves]) => (
          <a
            key={name}
            className={name === words.pdf ? "button button-main" : "button"}
            href={href}
            {...(saves
              ? { download: name === words.json ? `${site.id}-${zone.id}-${body.coat + 1}.json` : "" }
              : { target: "_blank", rel: "noopener" })}
          >
            {name}
          </a>
        ))}
      </nav>
      <dl className="record-facts">
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
      <h3>{words.verdict}</h3>
      <p className={notMet > 0 ? "record-bad" : undefined}>
        <b>{words.counts(met, notMet, unknown)}</b>
      </p>
      <table>
        <thead>
          <tr>
            <th scope="col">{words.outcome}</th>
            <th scope="col">{words.held}</th>
            <th scope="col">{words.limit}</th>
            <th scope="col">{words.worst}</th>
          </tr>
        </thead>
        <tbody>
          {body.limits.map((held) => (
            <tr key={`${held.limit} ${held.span}`} className={held.outcome === "not-met" ? "record-bad" : undefined}>
              <td>{words.outcomes[held.outcome]}</td>
              <th scope="row">
                {words.limits[held.limit]} <small>{words.spans[held.span]}</small>
              </th>
              <td data-name={words.limit}>{number(held.limitValue, held.unit, voice)}</td>
              <td data-name={words.worst}>
                {number(held.worst, held.unit, voice)}
                {held.beyondMin !== null && held.beyondMin > 0 && (
                  <small> {showDuration(held.beyondMin * 60_000)}</small>
                )}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <h3>{words.overrides}</h3>
      {body.overrides.length === 0 && <p>{words.noOverrides}</p>}
      <ul className="record-list">
        {body.overrides.map(({ entry, at, by, call, why, stood }) => (
          <li key={entry} className="record-bad">
            <time dateTime={at}>{stamp(at, voice)}</time>
            <span>
              <b>
                {words.instead(voice.text.words[call], stood === null ? words.unknown : voice.text.words[stood.call])}
              </b>
              : {why}
              <small> {by ?? words.noName}</small>
            </span>
          </li>
        ))}
      </ul>
      <Gaps body={body} />
      <Calls body={body} />
      <h3>{words.fieldRules}</h3>
      <p className="field-help">{words.fieldHelp}</p>
      <ul className="record-list">
        {body.fieldRules.map(({ rule, outcome, source }) => (
          <li key={rule} className={outcome === "not-met" ? "record-bad" : undefined}>
            <b>{words.outcomes[outcome]}</b>
            <span>
              {words.rules[rule]} <small>{source ?? words.common}</small>
            </span>
          </li>
        ))}
      </ul>
      <Photos body={body} />
    </div>
  );
}

function Gaps({ body }: { readonly body: CoatRecordBody }) {
  const voice = useVoice();
  const words = recordText(voice.text);
  const until = (to: string | null) => (to === null ? "" : ` – ${stamp(to, voice)}`);
  const lines = [
    ...body.gaps.map(({ from, to, reason }) => ({ from, to, said: words.gapReasons[reason] })),
    ...body.faults.map(({ from, to, probe }) => ({ from, to, said: words.faultAt(voice.placeOf(probe)) })),
  ].sort((a, b) => Date.parse(a.from) - Date.parse(b.from));
  return (
    <>
      <h3>{words.gaps}</h3>
      {lines.length === 0 && <p>{words.noGaps}</p>}
      <ul className="record-list">
        {lines.map(({ from, to, said }) => (
          <li key={`${from} ${said}`}>
            <time dateTime={from}>
              {stamp(from, voice)}
              {until(to)}
            </time>
            <span>{said}</span>
          </li>
        ))}
      </ul>
    </>
  );
}

function Calls({ body }: { readonly body: CoatRecordBody }) {
  const voice = useVoice();
  const words = recordText(voice.text);
  const [all, setAll] = useState(false);
  const newest = [...body.calls].reverse();
  return (
    <>
      <h3>{words.calls}</h3>
      <ul className="record-list">
        {newest.slice(0, all ? undefined : FIRST_CALLS).map((call) => (
          <li key={call.at}>
            <time dateTime={call.at}>{stamp(call.at, voice)}</time>
            <span>
              <b className={`word-${call.call}`}>{voice.text.words[call.call]}</b> {whyWords(call, voice)}
            </span>
          </li>
        ))}
      </ul>
      {newest.length > FIRST_CALLS && (
        <button type="button" className="button" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? words.fewer : words.more(newest.length)}
        </button>
      )}
    </>
  );
}

function Photos({ body }: { readonly body: CoatRecordBody }) {
  const voice = useVoice();
  const words = recordText(voice.text);
  const photos = body.photos.flatMap((entry) => (entry.did === "photographed" ? [entry] : []));
  if (photos.length === 0) return null;
  return (
    <>
      <h3>{words.photos}</h3>
      <ul className="record-photos">
        {photos.map((entry) => (
          <li key={entry.id ?? entry.photo}>
            <a href={recordApi.photoHref(body.site.id, entry.photo)} target="_blank" rel="noopener">
              <img
                src={recordApi.smallPhotoHref(body.site.id, entry.photo)}
                alt={entry.note ?? words.photoFile}
                loading="lazy"
              />
            </a>
            <small>
              {stamp(entry.at, voice)} {entry.note ?? ""}
            </small>
          </li>
        ))}
      </ul>
    </>
  );
}
