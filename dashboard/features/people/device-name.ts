// A browser's long account of itself, cut down to what tells one phone from another.

const BROWSERS: readonly (readonly [RegExp, string])[] = [
  [/\bEdgA?\/\d/, "Edge"],
  [/\bOPR\/\d/, "Opera"],
  [/\bSamsungBrowser\/\d/, "Samsung Internet"],
  [/\b(Firefox|FxiOS)\/\d/, "Firefox"],
  [/\b(Chrome|CriOS|Chromium|HeadlessChrome)\/\d/, "Chrome"],
  [/\bVersion\/[\d.]+.*\bSafari\/\d/, "Safari"],
];
const SYSTEMS: readonly (readonly [RegExp, string])[] = [
  [/\bAndroid\b/, "Android"],
  [/\b(iPhone|iPod)\b/, "iPhone"],
  [/\biPad\b/, "iPad"],
  [/\bWindows\b/, "Windows"],
  [/\bMac OS X\b|\bMacintosh\b/, "Mac"],
  [/\bCrOS\b/, "ChromeOS"],
  [/\bLinux\b/, "Linux"],
];

export interface DeviceName {
  readonly browser: string | null;
  readonly system: string | null;
}

/** Both null where nothing is known: a program, or a browser that keeps to itself. */
export function deviceName(agent: string): DeviceName {
  const find = (known: readonly (readonly [RegExp, string])[]) =>
    known.find(([pattern]) => pattern.test(agent))?.[1] ?? null;
  return { browser: find(BROWSERS), system: find(SYSTEMS) };
}
