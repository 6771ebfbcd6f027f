// The invented night: made into a site of its own, so that nothing invented ever stands in a real one.
import type { SiteBody } from "#contract/zone.ts";
import { ApiFailure } from "../../data/api.ts";
import { setUpApi } from "../../data/set-up-api.ts";
import { useAct } from "../../data/use-act.ts";
import type { SetUpText } from "../../text/en-set-up.ts";
import { setUpText } from "../../text/set-up.ts";
import { useVoice } from "../../ui/voice.tsx";

/** The names of the night in the words of whoever looks: they stand in its file in English. */
function named<T>(value: T, names: Readonly<Record<string, string>>): T {
  if (typeof value === "string") return ((names[value] as T | undefined) ?? value) as T;
  if (Array.isArray(value)) return value.map((one: unknown) => named(one, names)) as T;
  if (typeof value !== "object" || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, one]) => [key, named<unknown>(one, names)])) as T;
}

/** A site for every try, named by its minute: a second night on the same one would pour its coats twice. */
async function make(names: SetUpText["inventedNames"]): Promise<string> {
  const night = named(await setUpApi.inventedNight(), names.of);
  const timezone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const day = new Date().toISOString().slice(0, 16).replace(/[T:]/g, "-");
  const name = `${names.night} ${day.slice(0, 10)}`;
  const site: SiteBody = { ...night.site, id: `invented-${day}`, name, timezone };
  try {
    await setUpApi.addSite(site);
  } catch (error) {
    if (error instanceof ApiFailure && error.status === 409) return site.id;
    throw error;
  }
  await setUpApi.takeNightFile(site.id, JSON.stringify({ ...night, site }));
  return site.id;
}

export function Invented({ onMade }: { readonly onMade: (site: string) => void }) {
  const { text } = useVoice();
  const words = setUpText(text);
  const act = useAct();
  const run = async () => {
    const done = await act.run(() => make(words.inventedNames));
    if (done !== null) onMade(done.value);
  };
  return (
    <div className="set-up-part">
      <button type="button" className="button" disabled={act.busy} onClick={() => void run()}>
        {words.invented}
      </button>
      <p className="field-help">{words.lookHelp}</p>
      <p className="field-help">{words.inventedNote}</p>
      {act.busy && <p role="status">{words.busy}</p>}
      {act.failed !== null && (
        <p className="field-error" role="alert">
          {words.refused(act.failed)}
        </p>
      )}
    </div>
  );
}
