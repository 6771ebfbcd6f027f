// Stands behind the place of the page, while the program is still on its way. It shows what the server has drawn there, if
// this device asks for that page in that language, or takes it away; the program begins once that has been painted. What the
// server knew when it drew (who is signed in, the sites, the board) is handed on by `data/early.ts`.
(() => {
  const script = document.currentScript;
  const read = (key) => {
    try {
      return JSON.parse(localStorage.getItem(`nightslab.${key}`));
    } catch {
      return null;
    }
  };
  const keep = (key, value) => localStorage.setItem(`nightslab.${key}`, JSON.stringify(value));
  const tongue = navigator.language;
  const prefs = () => read("prefs") ?? {};
  const { theme, language = /^es/i.test(tongue) ? "es" : "en" } = prefs();
  /** As `data/prefs.ts` reads them. */
  const look = () => {
    const { language: spoken = language, units = /^en$|-us$/i.test(tongue) ? "us" : "si", hours = "auto" } = prefs();
    return `${spoken}~${units}~${hours}`;
  };
  const page = document.documentElement;
  page.lang = language;
  if (theme) page.dataset.theme = theme;
  const words = document.createElement("link");
  words.rel = "modulepreload";
  words.href = script.dataset[language] ?? script.dataset.en;
  document.head.append(words);

  // The server draws the next visit as this device is set.
  addEventListener("visibilitychange", () => {
    const width = document.querySelector(".strip")?.clientWidth ?? (innerWidth < 700 ? innerWidth - 32 : "");
    const site = encodeURIComponent(prefs().site ?? "");
    document.cookie = `nightslab-look=${look()}~${width}~${site};path=/;max-age=31536000;samesite=strict`;
  });

  // Ways in, and pages of all sites, show no board.
  const [, wanted, further] = /^#\/site\/([^/]+)(.*)/.exec(location.hash) ?? [];
  const drawn = document.getElementById("drawn");
  const begin = () => {
    const program = document.createElement("script");
    program.type = "module";
    program.src = script.dataset.main;
    document.head.append(program);
  };
  const isHere = (site) => (wanted ? decodeURIComponent(wanted) === site : location.hash.length < 3);
  /** What the server knew when it drew stands at the end of the page, behind the picture. */
  const takeKnown = () => {
    const known = JSON.parse(document.getElementById("known").textContent);
    const { access, sites, board, site } = known;
    const askedMs = performance.now();
    const early = (answer) => ({ answer, askedMs });
    const said = (body) => early(Promise.resolve(new Response(JSON.stringify(body))));
    const path = `/sites/${encodeURIComponent(site)}/board`;
    // Of a long board the first is drawn: all of it is on its way while the program is.
    const asked = () => {
      const answer = fetch(`/api/v1${path}`, { signal: AbortSignal.timeout(15_000) });
      // Where nobody takes it any more, nobody needs to hear that it failed.
      answer.catch(() => {});
      return early(answer);
    };
    globalThis.nightslabEarly = {
      "/access": said(access),
      "/sites": said(sites),
      [path]: board ? said(board) : isHere(site) && asked(),
    };
    return known;
  };
  const onceParsed = (run) =>
    document.readyState === "loading" ? addEventListener("DOMContentLoaded", run, { once: true }) : run();
  const isWanted = ({ look: of, who, site }) => {
    const kept = read("access");
    if (kept && JSON.stringify(kept.who) !== who) return false;
    return isHere(site) && !further && of === look();
  };
  if (drawn && isWanted(drawn.dataset)) {
    drawn.hidden = false;
    document.title = `${drawn.dataset.name} · Nightslab`;
    // Without the program it would never grow old.
    setTimeout(() => {
      if (drawn.isConnected) drawn.replaceChildren(drawn.nextElementSibling.content);
    }, 40_000);
    const painted = () => {
      const { access, sites } = takeKnown();
      try {
        // So the program begins with those who look at this very picture; its board is answered as soon as it asks.
        keep("access", access);
        keep("sites", sites);
      } catch {
        // A full or forbidden storage: it begins empty, and asks.
      }
      begin();
    };
    if (document.hidden) onceParsed(painted);
    else requestAnimationFrame(() => setTimeout(() => onceParsed(painted)));
  } else if (drawn) {
    drawn.remove();
    onceParsed(() => {
      takeKnown();
      begin();
    });
  } else begin();
})();
