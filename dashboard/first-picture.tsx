// The board as HTML, drawn by the server from the page's own parts: a phone shows it while the program is on its way.
import { renderToString } from "react-dom/server";
import { App } from "./app/app.tsx";
import { ServicesProvider } from "./app/services.tsx";
import { type Still, stillServices } from "./app/still-services.ts";
import { en } from "./text/en.ts";
import { es } from "./text/es.ts";
import { unmeasured } from "./ui/use-size.ts";

/** Of a longer board the first rows stand in the page: the others lie below what is seen at first, and come with the program. */
const MOST_ROWS = 24;

export interface Picture extends Still {
  /** How wide a strip will be, CSS pixels: nothing can be measured here. */
  readonly stripPx: number;
}

export interface Drawn {
  /** The page as it stands: no script in it, and every word of people escaped. */
  readonly page: string;
  /** What is said in its place where the program did not come. */
  readonly late: string;
}

export function drawn({ stripPx, ...still }: Picture): Drawn {
  Object.assign(unmeasured, { widthPx: stripPx, mostRows: MOST_ROWS });
  const { app } = still.prefs.language === "es" ? es : en;
  return {
    page: renderToString(
      <ServicesProvider value={stillServices(still, Date.now())}>
        <App dictionaries={{ en, es }} />
      </ServicesProvider>,
    ),
    late: renderToString(
      <div className="empty">
        <p role="alert">{app.notFetched}</p>
        <a className="button" href="/">
          {app.again}
        </a>
      </div>,
    ),
  };
}
