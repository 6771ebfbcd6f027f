// The steps of setting a site up: where one is, what is done, and the way on.
import { setUpText } from "../../text/set-up.ts";
import { useVoice } from "../../ui/voice.tsx";

export const STEPS = ["site", "coats", "floor", "nodes", "verdict"] as const;
export type Step = (typeof STEPS)[number];

interface Props {
  readonly step: Step;
  readonly done: Readonly<Record<Step, boolean>>;
  readonly hrefOf: (step: Step) => string;
}

export function Steps({ step, done, hrefOf }: Props) {
  const { text } = useVoice();
  const words = setUpText(text);
  return (
    <nav aria-label={words.title}>
      <ol className="set-up-steps">
        {STEPS.map((one, index) => (
          <li key={one}>
            <a href={hrefOf(one)} aria-current={one === step ? "step" : undefined}>
              <span className="set-up-number" aria-hidden="true">
                {done[one] ? "✓" : index + 1}
              </span>
              <span>
                {words.steps[one]}
                {done[one] && <span className="hidden"> ({words.done})</span>}
              </span>
            </a>
          </li>
        ))}
      </ol>
    </nav>
  );
}

export function NextStep({ step, hrefOf }: Pick<Props, "step" | "hrefOf">) {
  const { text } = useVoice();
  const words = setUpText(text);
  const next = STEPS[STEPS.indexOf(step) + 1];
  if (next === undefined) return null;
  return (
    <a className="button button-main set-up-next" href={hrefOf(next)}>
      {words.next(words.steps[next])}
    </a>
  );
}
