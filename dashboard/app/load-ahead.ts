// Loads the pages that are not shown yet, their chart last: a tap must work where the server is out of reach.

export async function loadAhead(): Promise<void> {
  await Promise.all([
    import("./zone-view.tsx"),
    import("../features/journal/outbox-bar.tsx"),
    import("../features/spot-check/spot-check.tsx"),
  ]);
  // A tap on a zone asks for the chart again.
  await import("../features/zone/night-chart.tsx").catch(() => undefined);
}
