// Asks for what the first picture needs while its program is still on the way: the words, who is signed in, the sites, the board.
// `data/early.ts` hands the answers on; whatever is not asked here, the program asks for itself.
(() => {
  const read = (key) => {
    try {
      return JSON.parse(localStorage.getItem(`nightslab.${key}`)) ?? {};
    } catch {
      return {};
    }
  };
  const { site: last, language } = read("prefs");
  const words = document.createElement("link");
  words.rel = "modulepreload";
  words.href =
    document.currentScript.dataset[language] ??
    document.currentScript.dataset[/^es/i.test(navigator.language) ? "es" : "en"];
  document.head.append(words);

  const asked = {};
  globalThis.nightslabEarly = asked;
  const ask = (path) => {
    // The program was faster, and has asked itself.
    if (path in asked) return;
    const answer = fetch(`/api/v1${path}`, {
      headers: { accept: "application/json" },
      signal: AbortSignal.timeout(15_000),
    });
    answer.catch(() => {});
    asked[path] = { answer, askedMs: performance.now() };
    return answer;
  };
  // Ways in, and pages of all sites, show no board.
  const [, wanted] = /^#\/site\/([^/]+)/.exec(location.hash) ?? [];
  ask("/access")
    .then((answer) => answer.clone().json())
    .then(({ accounts, who, sites }) => {
      if (location.pathname !== "/" || (!wanted && location.hash.length > 2)) return;
      if (accounts === "on" && (!who || who.role === "client")) return;
      ask("/sites");
      const ids = sites.map(({ id }) => encodeURIComponent(id));
      const id = wanted ?? ids.find((one) => one === encodeURIComponent(last)) ?? (ids.length === 1 ? ids[0] : null);
      if (ids.includes(id)) ask(`/sites/${id}/board`);
    })
    .catch(() => {});
})();
