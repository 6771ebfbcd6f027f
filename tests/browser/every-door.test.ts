// The pages of people and ways in, with accounts on: nothing that axe-core finds, nothing cut off, in both languages and themes.
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { DICTIONARIES } from "../dashboard/voice.ts";
import { accessText } from "../../dashboard/text/access.ts";
import { type GuardedHouse, openGuardedHouse } from "../support/guarded-house.ts";
import { lookOver, settled } from "./look-over.ts";
import { openPage } from "./open-page.ts";

const PASSWORD = "seven otters under a jetty";
const caller = { address: "192.0.2.1", device: null, agent: "test" };
/** What the browser says of answers that a test provokes. */
const TURNED_AWAY = /status of (401|403|404|422)/;
const WAYS = [
  { widthPx: 1280, heightPx: 800, language: "es", units: "si", theme: "light" },
  { widthPx: 390, heightPx: 844, language: "en", units: "us", theme: "dark" },
] as const;

let house: GuardedHouse;
beforeAll(async () => {
  house = await openGuardedHouse();
});
afterAll(() => house.end());

const wordsIn = (language: "en" | "es") => accessText(DICTIONARIES[language]);

async function over(page: Page, path: string): Promise<string[]> {
  await page.goto(`${house.url}${path}`);
  // Another secret behind the same address is no new page by itself.
  await page.reload();
  await settled(page);
  return lookOver(page, path.replace(/#.{20,}$/, "#..."));
}

describe.each(WAYS)("$widthPx pixels wide, $language, $theme", ({ widthPx, heightPx, ...prefs }) => {
  it("first start: the page of the first owner", async () => {
    const guarded = await openGuardedHouse();
    const { page, close } = await openPage(guarded.url, { widthPx, heightPx }, prefs, TURNED_AWAY);
    await settled(page);
    const found = await lookOver(page, "first start");
    await page.locator("form .button-main").click();
    await page.locator("[aria-invalid=true]").first().waitFor();
    found.push(...(await lookOver(page, "first start, empty")));
    expect(found).toEqual([]);
    await close();
    await guarded.end();
  });

  it("the ways in", async () => {
    await founded();
    const { people } = house;
    const invitation = people.invite({ role: "helper", sites: ["boathouse"] }, null);
    if (!invitation.ok) expect.fail(JSON.stringify(invitation));
    const link = people.makeLink({ role: "client", site: "boathouse", zone: null, label: "Kowalski" }, null);
    const withdrawn = people.makeLink({ role: "inspector", site: "boathouse", zone: null, label: "Avery" }, null);
    people.withdrawLink(withdrawn.id);
    const { page, close } = await openPage(house.url, { widthPx, heightPx }, prefs, TURNED_AWAY);
    const found: string[] = [];
    for (const path of ["/", `/invite#${invitation.value.token}`, "/reset", withdrawn.path, link.path])
      found.push(...(await over(page, path)));
    // The last one let somebody in: the page for the client.
    expect(await page.locator(".client-floor").count()).toBeGreaterThan(0);
    expect(found).toEqual([]);
    await close();
  });

  it("the owner's pages and one's own", async () => {
    await founded();
    const words = wordsIn(prefs.language);
    const { page, close } = await openPage(`${house.url}/#/people`, { widthPx, heightPx }, prefs, TURNED_AWAY);
    await page.locator("input[autocomplete=username]").fill("Ada Ruiz");
    await page.locator("input[autocomplete=current-password]").fill(PASSWORD);
    await page.keyboard.press("Enter");
    await page.locator(".people").waitFor();
    const found: string[] = [];
    for (const part of ["people", "links", "sessions", "audit"] as const) {
      await page.getByRole("button", { name: words.people.tabs[part], exact: true }).click();
      await settled(page);
      found.push(...(await lookOver(page, part)));
    }
    found.push(...(await over(page, "/#/me")), ...(await over(page, "/#/site/boathouse/zone/slip")));
    expect(found).toEqual([]);
    await close();
  });
});

/** The owner and somebody else, made once. */
async function founded(): Promise<void> {
  const { people } = house;
  if (!people.needsFirstOwner()) return;
  await people.firstOwner({ code: people.firstOwnerCode() ?? "", name: "Ada Ruiz", password: PASSWORD }, caller);
  const made = people.invite({ role: "helper", sites: ["boathouse"] }, null);
  if (!made.ok) expect.fail(JSON.stringify(made));
  const came = await people.accept({ token: made.value.token, name: "Rosa Lindt", password: PASSWORD }, caller);
  if (!came.ok) expect.fail(JSON.stringify(came));
  people.makeLink({ role: "inspector", site: "boathouse", zone: "slip", label: "Mr Avery" }, "Ada Ruiz");
}
