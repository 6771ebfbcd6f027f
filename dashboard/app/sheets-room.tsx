// The sheets, with who writes and where each page lives.
import { mayOf, writerOf } from "../data/session.ts";
import { useSignal } from "../data/use-signal.ts";
import SheetsPage from "../features/sheets/sheets-page.tsx";
import { hrefs } from "./route.ts";
import { useServices } from "./services.tsx";

export default function SheetsRoom({ part }: { readonly part: string | null }) {
  const { prefs: desk, session } = useServices();
  const prefs = useSignal(desk.signal);
  const { access } = useSignal(session.signal);
  return (
    <SheetsPage
      part={part}
      plans={mayOf(access, "plan")}
      by={writerOf(access) ?? prefs.by}
      onBy={access?.accounts === "on" ? null : (by) => desk.change({ by })}
      hrefOf={(to) => hrefs.global("sheets", to)}
      onGo={(to) => {
        globalThis.location.hash = hrefs.global("sheets", to);
      }}
    />
  );
}
