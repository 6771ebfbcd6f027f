// The frame of every form that lets somebody in: heading, fields, what went wrong, and one big button.
import { type FormEvent, type ReactNode, useEffect, useRef } from "react";
import { accessText } from "../../text/access.ts";
import { useVoice } from "../../ui/voice.tsx";
import type { Attempt } from "./use-attempt.ts";
import "./sign-in.css";

interface Props {
  readonly title: string;
  readonly help?: ReactNode;
  readonly attempt: Attempt;
  readonly go: string;
  readonly going: string;
  readonly onGo: () => void;
  readonly children: ReactNode;
  readonly after?: ReactNode;
}

export function DoorForm({ title, help, attempt, go, going, onGo, children, after }: Props) {
  const { text } = useVoice();
  const words = accessText(text).form;
  const form = useRef<HTMLFormElement>(null);
  const { trouble, faults, waitS } = attempt;
  // A person who cannot see the page is led to the first field that is wrong.
  useEffect(() => {
    if (Object.keys(faults).length > 0) form.current?.querySelector<HTMLElement>("[aria-invalid=true]")?.focus();
  }, [faults]);
  useEffect(() => {
    document.title = `${title} · Nightslab`;
  }, [title]);
  const span = waitS >= 100 ? words.minutes(Math.ceil(waitS / 60)) : words.seconds(waitS);
  const submit = (event: FormEvent) => {
    event.preventDefault();
    if (waitS === 0) onGo();
  };
  return (
    <section className="door">
      <form ref={form} onSubmit={submit} noValidate>
        <h1>{title}</h1>
        {help}
        {children}
        <div role="alert" className="door-trouble">
          {trouble !== null && <p className="field-error">{trouble}</p>}
        </div>
        {/* Said once when it begins; a count that is read out every second would drown everything else. */}
        <div role="alert" className="door-trouble">
          {waitS > 0 && (
            <p className="field-error">
              <span className="hidden">{words.wait("")}</span>
              <span aria-hidden="true">{words.wait(span)}</span>
            </p>
          )}
        </div>
        <button type="submit" className="button button-main" disabled={attempt.going || waitS > 0}>
          {attempt.going ? going : go}
        </button>
      </form>
      {after}
    </section>
  );
}
