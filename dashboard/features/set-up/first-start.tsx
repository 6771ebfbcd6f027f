// The page of a server that has no site yet, and of adding another: name it, or look first.
import { idFrom } from "../../data/id-from.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAct } from "../../data/use-act.ts";
import { setUpText } from "../../text/set-up.ts";
import { useVoice } from "../../ui/voice.tsx";
import { Invented } from "./invented.tsx";
import { JudgeFile } from "./judge-file.tsx";
import { SiteForm, type SiteWords } from "./site-form.tsx";
import "./set-up.css";
import { TakeSite } from "./take-site.tsx";

interface Props {
  /** Sites that are there already. */
  readonly taken: readonly string[];
  /** `whole`: nothing of it is left to set up. */
  readonly onMade: (site: string, whole: boolean) => void;
}

export default function FirstStart({ taken, onMade }: Props) {
  const { text } = useVoice();
  const words = setUpText(text);
  const act = useAct();
  const add = async (site: SiteWords) => {
    const id = idFrom(site.name, taken, "site");
    if ((await act.run(() => setUpApi.addSite({ ...site, id }))) !== null) onMade(id, false);
  };
  return (
    <div className="set-up">
      <h1>{taken.length === 0 ? words.firstTitle : words.anotherTitle}</h1>
      <p className="set-up-lead">{words.firstHelp}</p>
      <div className="set-up-sides">
        <section aria-label={words.steps.site}>
          <SiteForm site={null} submit={words.begin} busy={act.busy} onSubmit={(site) => void add(site)} />
          {act.failed !== null && (
            <p className="field-error" role="alert">
              {words.refused(act.failed)}
            </p>
          )}
        </section>
        <section className="set-up-look" aria-labelledby="look-first">
          <h2 id="look-first">{words.lookFirst}</h2>
          <Invented onMade={(site) => onMade(site, true)} />
          <JudgeFile />
          <TakeSite onMade={(site) => onMade(site, true)} />
        </section>
      </div>
    </div>
  );
}
