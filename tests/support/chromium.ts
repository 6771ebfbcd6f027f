// Starts the system's Chromium for browser tests: fresh profile each time, and it never calls home.
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { type BrowserContext, chromium } from "playwright-core";
import { programPath } from "../../.ci/programs.ts";

/** Flags for every start. The sandbox needs privileges that a container's root does not have. */
export const chromiumArgs = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--disable-dev-shm-usage",
];

export interface OpenBrowser {
  context: BrowserContext;
  /** Closes the browser and deletes its profile. */
  close(): Promise<void>;
}

/** What a test may choose; everything else is fixed so that runs are alike. */
export interface BrowserWishes {
  widthPx?: number;
  heightPx?: number;
  locale?: string;
  timezoneId?: string;
  touch?: boolean;
  /** More command line flags, after `chromiumArgs`. */
  args?: string[];
}

/** A headless Chromium with an empty profile of its own, so that storage, caches and permissions start blank. */
export async function openChromium(wishes: BrowserWishes = {}): Promise<OpenBrowser> {
  const profile = await mkdtemp(join(tmpdir(), "nightslab-chromium-"));
  const remove = () => rm(profile, { recursive: true, force: true, maxRetries: 5, retryDelay: 100 });
  try {
    const context = await chromium.launchPersistentContext(profile, {
      executablePath: programPath("chromium"),
      headless: true,
      args: [...chromiumArgs, ...(wishes.args ?? [])],
      viewport: { width: wishes.widthPx ?? 1280, height: wishes.heightPx ?? 800 },
      locale: wishes.locale ?? "en-US",
      timezoneId: wishes.timezoneId ?? "UTC",
      hasTouch: wishes.touch ?? false,
    });
    return {
      context,
      async close() {
        await context.close();
        await remove();
      },
    };
  } catch (failure) {
    await remove();
    throw failure;
  }
}
