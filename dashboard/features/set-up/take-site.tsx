// A site from a file: under its own id or another, with the clashes settled beforehand.
import { useState } from "react";
import type { SiteFileWish } from "#contract/site-file.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAct } from "../../data/use-act.ts";
import { setUpText } from "../../text/set-up.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { FileDrop } from "./file-drop.tsx";

const ID = /^[A-Za-z0-9][A-Za-z0-9_-]{0,63}$/;

export function TakeSite({ onMade }: { readonly onMade: (site: string) => void }) {
  const { text } = useVoice();
  const words = setUpText(text);
  const act = useAct();
  const [as, setAs] = useState("");
  const [sheets, setSheets] = useState<"refuse" | "keep">("refuse");
  const [recipes, setRecipes] = useState<"take" | "leave">("take");
  const wrong = as.trim() !== "" && !ID.test(as.trim());
  const take = async (file: string) => {
    if (wrong) return;
    const wish: SiteFileWish = { sheets, recipes, ...(as.trim() === "" ? {} : { as: as.trim() }) };
    const done = await act.run(() => setUpApi.takeSiteFile(file, wish));
    if (done !== null) onMade(done.value.site.id);
  };
  return (
    <details className="set-up-part">
      <summary>{words.siteFile}</summary>
      <p className="field-help">{words.siteFileHelp}</p>
      <div className="set-up-form">
        <Field
          label={words.asId}
          type="text"
          value={as}
          help={words.asIdHelp}
          error={wrong ? words.asIdWrong : undefined}
          onType={setAs}
        />
        <Choice
          label={words.sheetsClash}
          options={words.sheetsClashOptions}
          value={sheets}
          onPick={(picked) => setSheets(picked === "keep" ? "keep" : "refuse")}
        />
        <Choice
          label={words.recipes}
          options={words.recipesOptions}
          value={recipes}
          onPick={(picked) => setRecipes(picked === "leave" ? "leave" : "take")}
        />
        <FileDrop label={words.siteFile} busy={act.busy || wrong} onText={(file) => void take(file)} />
        {act.busy && <p role="status">{words.busy}</p>}
        {act.failed !== null && (
          <p className="field-error" role="alert">
            {words.refused(act.failed)}
          </p>
        )}
      </div>
    </details>
  );
}
