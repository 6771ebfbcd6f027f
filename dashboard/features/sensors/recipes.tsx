// Recipes: those that stand, five to begin with, and what a pasted message would give.
import { useId, useState } from "react";
import { RECIPE_EXAMPLES } from "#contract/recipe-examples.ts";
import type { RecipeBody, RecipeTriedBody } from "#contract/recipe.ts";
import { sensorsApi } from "../../data/sensors-api.ts";
import { useAsked } from "../../data/use-asked.ts";
import { sensorsText } from "../../text/sensors.ts";
import { Choice } from "../../ui/choice.tsx";
import { Field } from "../../ui/field.tsx";
import { useVoice } from "../../ui/voice.tsx";
import { RecipeAnswer } from "./recipe-answer.tsx";
import { useAct } from "./use-act.ts";

const written = (recipe: RecipeBody) => JSON.stringify(recipe, null, 2);

export function Recipes({ site, plans }: { readonly site: string; readonly plans: boolean }) {
  const { text } = useVoice();
  const words = sensorsText(text);
  const ids = { recipe: useId(), message: useId() };
  const act = useAct();
  const [turn, setTurn] = useState(0);
  const known = useAsked(() => sensorsApi.recipes(site), site, String(turn));
  const [shape, setShape] = useState("");
  const [draft, setDraft] = useState({ recipe: "", topic: "", payload: "" });
  const [tried, setTried] = useState<RecipeTriedBody | null>(null);
  const [said, setSaid] = useState<string | null>(null);
  const list = known.value ?? [];
  const edit = (change: Partial<typeof draft>) => {
    setDraft({ ...draft, ...change });
    setTried(null);
    setSaid(null);
  };
  const parsed = (): RecipeBody => {
    try {
      return JSON.parse(draft.recipe) as RecipeBody;
    } catch {
      throw new Error(words.notJson);
    }
  };
  const begin = (picked: string) => {
    const example = RECIPE_EXAMPLES.find((one) => one.shape === picked);
    if (example === undefined) return;
    setShape(picked);
    edit({ recipe: written(example.recipe), topic: example.topic, payload: example.payload });
  };
  const put = (next: readonly RecipeBody[]) =>
    act.run(async () => {
      await sensorsApi.putRecipes(site, next);
      setTurn(turn + 1);
    });
  const save = () =>
    void act
      .run(async () => {
        const recipe = parsed();
        await sensorsApi.putRecipes(site, [...list.filter(({ id }) => id !== recipe.id), recipe]);
        setTurn(turn + 1);
      })
      .then((done) => setSaid(done ? words.kept : null));
  return (
    <div className="recipes">
      <p className="field-help">{words.recipesHelp}</p>
      {known.value !== null && list.length === 0 && <p>{words.noRecipes}</p>}
      <ul className="recipe-list">
        {list.map((recipe) => (
          <li key={recipe.id}>
            <button type="button" className="button-plain" onClick={() => edit({ recipe: written(recipe) })}>
              {recipe.name ?? recipe.id}
            </button>
            <code>{recipe.topic}</code>
            {plans && (
              <button
                type="button"
                className="button-plain"
                disabled={act.busy}
                onClick={() => void put(list.filter(({ id }) => id !== recipe.id))}
              >
                {words.removeRecipe}
              </button>
            )}
          </li>
        ))}
      </ul>
      {plans && (
        <div className="sensor-form">
          <Choice label={words.examples} options={words.shapes} value={shape} onPick={begin} />
          <div className="field">
            <label htmlFor={ids.recipe}>{words.recipe}</label>
            <textarea
              id={ids.recipe}
              rows={14}
              spellCheck={false}
              value={draft.recipe}
              onChange={(event) => edit({ recipe: event.target.value })}
            />
          </div>
          <Field label={words.topic} type="text" value={draft.topic} onType={(topic) => edit({ topic })} />
          <div className="field">
            <label htmlFor={ids.message}>{words.message}</label>
            <textarea
              id={ids.message}
              rows={5}
              spellCheck={false}
              value={draft.payload}
              onChange={(event) => edit({ payload: event.target.value })}
            />
          </div>
          {act.failed !== null && (
            <p className="field-error" role="alert">
              {words.refusedBy(act.failed)}
            </p>
          )}
          {tried !== null && <RecipeAnswer tried={tried} />}
          {said !== null && <p role="status">{said}</p>}
          <div className="sensor-acts">
            <button
              type="button"
              className="button button-main"
              disabled={act.busy}
              onClick={() =>
                void act.run(async () =>
                  setTried(
                    await sensorsApi.tryRecipe(site, { recipe: parsed(), topic: draft.topic, payload: draft.payload }),
                  ),
                )
              }
            >
              {words.tryIt}
            </button>
            <button type="button" className="button" disabled={act.busy || draft.recipe === ""} onClick={save}>
              {words.saveRecipe}
            </button>
          </div>
        </div>
      )}
    </div>
  );
}
