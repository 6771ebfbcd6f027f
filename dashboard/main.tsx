// The page: makes the long-lived parts and shows the dashboard.
import { StrictMode } from "react";
import { createRoot } from "react-dom/client";
import { App } from "./app/app.tsx";
import { loadAhead } from "./app/load-ahead.ts";
import type { BoardStore } from "./data/board-store.ts";
import { browserServices, ServicesProvider } from "./app/services.tsx";
import { LANGUAGES } from "./text/languages.ts";
import "./ui/tokens.css";
import "./ui/base.css";
import "./ui/bar.css";
import "./ui/fields.css";

/** What the server has drawn stands until the program has a board to say it with, or hears that there is none. */
function answered({ start, signal }: BoardStore): Promise<void> {
  start();
  return new Promise((resolve) => {
    signal.subscribe(() => signal.get().link === "waiting" || resolve());
  });
}

async function show(root: HTMLElement): Promise<void> {
  const services = browserServices();
  const chosen = services.prefs.signal.get().language;
  const drawn = document.getElementById("drawn")?.dataset["site"];
  const board = drawn !== undefined && answered(services.storeOf(drawn));
  const first = await LANGUAGES[chosen]();
  await board;
  const render = createRoot(root);
  const page = (dictionaries: Parameters<typeof App>[0]["dictionaries"]) =>
    render.render(
      <StrictMode>
        <ServicesProvider value={services}>
          <App dictionaries={dictionaries} />
        </ServicesProvider>
      </StrictMode>,
    );
  page({ en: first, es: first });
  // All else would take its share of a thin line from the board; then it comes at once, to be there when the server is not.
  await services.settled;
  const [en, es] = await Promise.all([LANGUAGES.en(), LANGUAGES.es()]);
  page({ en, es });
  await loadAhead();
  await (await import("./data/shell.ts")).keepShell();
  await (await import("./data/photo-box.ts")).sweep(services.keep, Date.now()).catch(() => undefined);
}

const root = document.getElementById("root");
if (root !== null) show(root).catch((cause: unknown) => console.warn("not everything could be loaded ahead", cause));
