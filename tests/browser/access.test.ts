// Getting in, in a real browser against the real door: who sees what, what a phone keeps for whom, and being put out.
import type { Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Role } from "#contract/access.ts";
import { startBoardServer } from "../support/board-server.ts";
import { type GuardedHouse, openGuardedHouse } from "../support/guarded-house.ts";
import { type OpenPage, openPage, overflowPx, type Prefs, smallTargets, type Wishes } from "./open-page.ts";

const PASSWORD = "seven otters under a jetty";
const EN: Prefs = { language: "en", units: "us", theme: "light" };
const ES: Prefs = { language: "es", units: "us", theme: "dark" };
const PHONE: Wishes = { widthPx: 390, heightPx: 844, touch: true };
/** What the browser says of answers that a test provokes. */
const TURNED_AWAY =
  /status of (401|403|404|409|422|429)|ERR_CONNECTION|ERR_SOCKET_NOT_CONNECTED|ERR_INCOMPLETE|ERR_EMPTY|network error/i;

let house: GuardedHouse;
beforeAll(async () => {
  house = await openGuardedHouse();
});
afterAll(() => house.end());

const at = (path = "/") => house.url + path;
const open = (path: string, wishes: Wishes = {}, prefs: Prefs = EN): Promise<OpenPage> =>
  openPage(at(path), wishes, prefs, TURNED_AWAY);
const caller = { address: "192.0.2.1", device: null, agent: "test" };

async function signIn(page: Page, name: string, password = PASSWORD): Promise<void> {
  await page.getByLabel("Name").fill(name);
  await page.getByLabel("Password", { exact: true }).fill(password);
  await page.getByRole("button", { name: "Sign in", exact: true }).click();
}

/** A person of the house, made as an invitation makes one. */
async function person(name: string, role: Role, sites: string[] | null = ["boathouse"]): Promise<void> {
  const made = house.people.invite({ role, sites }, null);
  if (!made.ok) expect.fail(JSON.stringify(made));
  const came = await house.people.accept({ token: made.value.token, name, password: PASSWORD }, caller);
  if (!came.ok) expect.fail(JSON.stringify(came));
}

/** Those whom most tests need; made once. */
async function everybody(): Promise<void> {
  if (house.people.needsFirstOwner()) {
    const code = house.people.firstOwnerCode() ?? "";
    await house.people.firstOwner({ code, name: "Ada Ruiz", password: PASSWORD }, caller);
  }
  for (const name of ["Rosa Lindt", "Luis Ortega"])
    if (!house.people.people().some((one) => one.name === name)) await person(name, "helper");
}

const sessionsOf = (name: string) => house.people.sessions(null, true).filter((session) => session.name === name);
function putOut(name: string): void {
  for (const session of sessionsOf(name)) house.people.endSession(session.id, null, true);
}

describe("the first owner", () => {
  it("comes in by the code of the terminal; what is wrong is said at its field; the code is then used up", async () => {
    const code = house.people.firstOwnerCode() ?? "";
    const { page, close } = await open("/", PHONE);
    await page.getByRole("heading", { name: "Make the first owner" }).waitFor();
    await page.getByRole("button", { name: "Become the owner" }).click();
    await page.getByText("Enter the code.").waitFor();
    // The first field that is wrong has the keyboard.
    expect(await page.evaluate(() => document.activeElement?.getAttribute("autocomplete"))).toBe("one-time-code");
    await page.getByLabel("Code from the terminal").fill(code.toLowerCase());
    await page.getByLabel("Name").fill("Ada Ruiz");
    const password = page.getByLabel("New password", { exact: true });
    await password.fill("Ada Ruiz Ada Ruiz");
    await page.getByRole("button", { name: "Become the owner" }).click();
    await page.getByText(/others would try it too/).waitFor();
    expect(await password.getAttribute("aria-invalid")).toBe("true");
    expect(await password.getAttribute("autocomplete")).toBe("new-password");
    expect(await password.getAttribute("type")).toBe("password");
    await page.getByRole("button", { name: "Show the password" }).click();
    expect(await password.getAttribute("type")).toBe("text");
    expect(await overflowPx(page)).toBe(0);
    expect(await smallTargets(page)).toEqual([]);
    await password.fill(PASSWORD);
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Choose a site" }).waitFor();
    await page.locator(".bar-who", { hasText: "Ada Ruiz" }).waitFor();
    await close();
    const again = await open("/");
    await again.page.getByRole("heading", { name: "Sign in" }).waitFor();
    await again.close();
  });
});

describe("signing in", () => {
  beforeAll(everybody);

  it("says that name and password do not fit, makes people wait, and tells how long", async () => {
    const { page, close } = await open("/", PHONE, ES);
    await page.getByLabel("Nombre").fill("Nobody Here");
    const button = page.getByRole("button", { name: "Entrar", exact: true });
    await page.getByLabel("Contraseña", { exact: true }).fill("not the password");
    await button.click();
    await page.getByText("El nombre o la contraseña no es correcto.").waitFor();
    await expect
      .poll(
        async () => {
          if (await button.isEnabled()) await button.click();
          return page.getByText(/^Demasiados intentos\. Espere \d+ segundos?\.$/).count();
        },
        { interval: 100, timeout: 20_000 },
      )
      .toBeGreaterThan(0);
    expect(await button.isDisabled()).toBe(true);
    // The wait ends by itself.
    await expect.poll(() => button.isEnabled(), { timeout: 20_000 }).toBe(true);
    await page.getByText("¿Olvidó la contraseña?").click();
    await page.getByText("npm run people -- reset NOMBRE").waitFor();
    expect(await overflowPx(page)).toBe(0);
    expect(await smallTargets(page)).toEqual([]);
    await close();
  });

  it("leads back to where somebody was, by keyboard alone; signing out forgets the board", async () => {
    const { page, close } = await open("/#/site/boathouse/zone/slip");
    await page.getByLabel("Name").focus();
    await page.keyboard.type("Rosa Lindt");
    await page.keyboard.press("Tab");
    await page.keyboard.type(PASSWORD);
    await page.keyboard.press("Enter");
    await page.getByRole("heading", { name: "Slip bay, river door" }).waitFor();
    await page.getByRole("link", { name: "Rosa Lindt" }).click();
    await page.getByText("Sees the boards and writes the journal.").waitFor();
    expect(await page.evaluate(() => Object.keys(localStorage).some((key) => key.includes("board.")))).toBe(true);
    await page.getByRole("button", { name: "Sign out" }).click();
    await page.getByLabel("Password", { exact: true }).waitFor();
    expect(await page.getByText("You were signed out by the server").count()).toBe(0);
    expect(await page.evaluate(() => Object.keys(localStorage).some((key) => key.includes("board.")))).toBe(false);
    await close();
  });

  it("a helper writes under the own name, plans nothing, and is told so where others plan", async () => {
    house.entries.length = 0;
    const { page, close } = await open("/#/site/boathouse/zone/inner");
    await signIn(page, "Rosa Lindt");
    await page.getByRole("button", { name: "Looked at it" }).first().waitFor();
    expect(await page.locator(".heat-room").count()).toBe(0);
    await page.getByRole("button", { name: "More" }).click();
    expect(await page.getByLabel("Your name").count()).toBe(0);
    await page.getByRole("button", { name: "Washed" }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Write it down" }).click();
    await expect.poll(() => house.entries.map(({ did, by }) => [did, by])).toEqual([["washed", "Rosa Lindt"]]);
    await page.goto(at("/#/people"));
    await page.getByText("Not for your role. Ask the owner.").waitFor();
    await page.goto(at("/#/site/mill-row"));
    await page.getByText("There is nothing at this address.").waitFor();
    await close();
  });

  it("a forgotten password is replaced by the code from the machine, typed; every other device is out", async () => {
    await person("Ines Quay", "helper");
    const other = await open("/#/site/boathouse");
    await signIn(other.page, "Ines Quay");
    await other.page.locator(".row").first().waitFor();
    const { id } = house.people.people().find((one) => one.name === "Ines Quay") ?? expect.fail("Ines is there");
    const made = house.people.makeReset(id, null);
    if (!made.ok) expect.fail(JSON.stringify(made));
    const { page, close } = await open("/", PHONE);
    await page.getByText("Forgot the password?").click();
    await page.getByRole("link", { name: "I have a code" }).click();
    await page.getByLabel("One-time code").fill("WRNG-WRNG-WRNG-WRNG");
    await page.getByLabel("New password", { exact: true }).fill("a lantern for the tide gate");
    await page.getByRole("button", { name: "Take this password" }).click();
    await page.getByText("This code or link is not right").waitFor();
    await page.getByLabel("One-time code").fill(made.value.token.toLowerCase());
    await page.getByRole("button", { name: "Take this password" }).click();
    await page.locator(".row").first().waitFor();
    expect(new URL(page.url()).pathname).toBe("/");
    await other.page.getByText("You were signed out by the server.").waitFor({ timeout: 30_000 });
    await other.close();
    await close();
  });

  it("a changed password puts the other devices out, and a wrong one is said at its field", async () => {
    await person("Bo Ferry", "lead", null);
    const other = await open("/#/site/boathouse");
    await signIn(other.page, "Bo Ferry");
    await other.page.locator(".row").first().waitFor();
    const { page, close } = await open("/#/me");
    await signIn(page, "Bo Ferry");
    await page.getByRole("button", { name: "Change the password" }).click();
    await page.getByLabel("Password until now").fill("not this one");
    await page.getByLabel("New password", { exact: true }).fill("a lantern for the tide gate");
    await page.getByRole("button", { name: "Change it" }).click();
    await page.getByText("This is not the password until now.").waitFor();
    await page.getByLabel("Password until now").fill(PASSWORD);
    await page.getByRole("button", { name: "Change it" }).click();
    await page.getByText("Changed. Your other devices are signed out.").waitFor();
    await other.page.getByText("You were signed out by the server.").waitFor();
    await other.close();
    await close();
  });
});

describe("an expired session", () => {
  beforeAll(everybody);

  it("keeps what was written without the server for whoever wrote it, and sends it under no other name", async () => {
    house.entries.length = 0;
    const { page, close } = await open("/#/site/boathouse/zone/inner", { ...PHONE, keepsNothing: true });
    await signIn(page, "Rosa Lindt");
    await page.getByRole("button", { name: "Looked at it" }).first().waitFor();
    await house.kill();
    await page.getByRole("button", { name: "Cleaned" }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Write it down" }).click();
    await page.getByText("1 entry waits for the server.").waitFor();
    putOut("Rosa Lindt");
    await house.revive();
    await page.getByText("You were signed out by the server.").waitFor({ timeout: 60_000 });
    await page.getByText("1 entry by Rosa Lindt waits on this device.").waitFor();
    await signIn(page, "Luis Ortega");
    await page.getByRole("heading", { name: "Slip bay, inner" }).waitFor();
    await page.getByText("1 entry by Rosa Lindt waits on this device.").waitFor();
    await page.getByRole("button", { name: "Washed" }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Write it down" }).click();
    await expect.poll(() => house.entries.map(({ did, by }) => [did, by])).toEqual([["washed", "Luis Ortega"]]);
    await page.goto(at("/#/me"));
    await page.getByRole("button", { name: "Sign out" }).click();
    await signIn(page, "Rosa Lindt");
    await expect
      .poll(() => house.entries.map(({ did, by }) => [did, by]))
      .toEqual([
        ["washed", "Luis Ortega"],
        ["cleaned", "Rosa Lindt"],
      ]);
    await expect.poll(() => page.getByText("waits on this device").count()).toBe(0);
    await close();
  });

  it("two pages of one browser: whoever signs in on one is told to the other, and a page never sends for somebody else", async () => {
    house.entries.length = 0;
    const { page, close } = await open("/#/site/boathouse/zone/inner");
    await signIn(page, "Rosa Lindt");
    await page.getByRole("button", { name: "Looked at it" }).first().waitFor();
    const second = await page.context().newPage();
    await second.goto(at("/#/me"));
    await second.getByRole("button", { name: "Sign out" }).click();
    await page.getByLabel("Password", { exact: true }).waitFor();
    await signIn(second, "Luis Ortega");
    await page.locator(".bar-who", { hasText: "Luis Ortega" }).waitFor();
    await page.getByRole("heading", { name: "Slip bay, inner" }).waitFor();
    await close();
  });
});

describe("links", () => {
  beforeAll(everybody);

  it("an inspector sees one zone, with no button that writes, until the link is withdrawn", async () => {
    const link = house.people.makeLink(
      { role: "inspector", site: "boathouse", zone: "slip", label: "Mr Avery" },
      "Ada Ruiz",
    );
    const { page, close } = await open(link.path);
    await page.locator(".row").first().waitFor();
    expect(page.url()).not.toContain(link.token);
    expect(await page.locator(".row").count()).toBe(1);
    await page.getByRole("link", { name: /^Slip bay, river door/ }).click();
    await page.locator(".rules").waitFor();
    for (const one of [".pad", ".heat-room", ".act"]) expect(await page.locator(one).count(), one).toBe(0);
    await page.locator(".journal li").first().waitFor();
    house.people.withdrawLink(link.id);
    await page.getByRole("heading", { name: "Sign in" }).waitFor({ timeout: 30_000 });
    await page.goto(at(link.path));
    await page.getByText("This link was withdrawn or has ended.").waitFor();
    await close();
  });

  it("somebody who is signed in is asked before a link takes their place", async () => {
    const link = house.people.makeLink({ role: "client", site: "boathouse", zone: null, label: "Kowalski" }, null);
    const { page, close } = await open("/#/site/boathouse");
    await signIn(page, "Rosa Lindt");
    await page.locator(".row").first().waitFor();
    await page.goto(at(link.path));
    await page.getByRole("button", { name: "Stay signed in" }).click();
    await page.locator(".row").first().waitFor();
    await close();
  });

  it.each([
    [PHONE, ES, "Su piso", /no antes de \S{3} \d+ feb, \d+:\d\d [ap]m/],
    [{}, EN, "Your floor", /not before \S{3} \d+ Feb, \d+:\d\d [ap]m/],
  ] as const)("a client sees dates and what to leave alone, and nothing else", async (wishes, prefs, title, date) => {
    const link = house.people.makeLink({ role: "client", site: "boathouse", zone: null, label: "Kowalski" }, null);
    const { page, close } = await open(link.path, wishes, prefs);
    await page.locator(".client-floor").first().waitFor();
    const words = (await page.locator("main").innerText()).replaceAll("\u00a0", " ");
    expect(words).toContain(title);
    expect(words).toMatch(date);
    expect(words).not.toMatch(/WAIT|POUR|ESPERAR|APLICAR|dew|rocío|undefined|NaN/);
    expect(await overflowPx(page)).toBe(0);
    expect(await smallTargets(page)).toEqual([]);
    for (const address of ["/#/site/boathouse/zone/slip", "/#/spot-check", "/#/people", "/#/sites"]) {
      await page.goto(at(address));
      await page.locator(".client-floor").first().waitFor();
    }
    await close();
  });
});

describe("the owner's page", () => {
  beforeAll(everybody);

  it.each([
    [PHONE, EN],
    [{ widthPx: 1280, heightPx: 800 }, EN],
  ] as const)("invites, changes, takes away; links; devices; who did what", async (wishes, prefs) => {
    const guest = `Mia Tarn ${wishes.widthPx}`;
    const { page, close } = await open("/#/people", wishes, prefs);
    await signIn(page, "Ada Ruiz");
    await page.getByText("Rosa Lindt").waitFor();
    const fits = async () => {
      expect(await overflowPx(page)).toBe(0);
      expect(await smallTargets(page)).toEqual([]);
    };
    await fits();
    expect(await page.locator(".entries > li", { hasText: "Ada Ruiz" }).innerText()).toContain("The last owner stays.");
    // Invite: no site chosen is said, then the address is shown once.
    await page.getByLabel("Who is it for?").fill(guest);
    await page.getByLabel("Every site, also later ones").uncheck();
    await page.getByRole("button", { name: "Make the invitation" }).click();
    await page.getByText("Choose at least one site.").waitFor();
    await page.getByLabel("Mill Row 4").check();
    await page.getByRole("button", { name: "Make the invitation" }).click();
    const address = await page.locator(".once input").inputValue();
    await fits();
    const invited = await open(address.slice(house.url.length), wishes, prefs);
    await invited.page.getByText("As Helper, for Mill Row 4.").waitFor();
    await invited.page.getByLabel("Name").fill(guest);
    await invited.page.getByLabel("New password", { exact: true }).fill("a lantern for the tide gate");
    await invited.page.getByRole("button", { name: "Come in" }).click();
    await invited.page.getByRole("heading", { name: "Mill Row 4" }).waitFor();
    // Change: another role holds at once, and the page that is open follows.
    await page.reload();
    await page.getByRole("button", { name: `Change: ${guest}` }).click();
    await page.locator(".entries form").getByLabel("Inspector").check();
    await page.getByRole("button", { name: "Save" }).click();
    await page.locator(".entries > li", { hasText: guest }).getByText("Inspector").waitFor();
    await fits();
    // Devices: ending one puts it out.
    await page.getByRole("button", { name: "Devices" }).click();
    await page.getByRole("button", { name: `End: ${guest}` }).click();
    await page.getByRole("button", { name: "Sure? End" }).click();
    await invited.page.getByText("You were signed out by the server.").waitFor({ timeout: 30_000 });
    await invited.close();
    await fits();
    // Links: made for a zone, shown once, withdrawn.
    await page.getByRole("button", { name: "Links", exact: true }).click();
    await page.getByRole("button", { name: "Make the link" }).click();
    await page.getByText("Say for whom it is.").waitFor();
    await page.getByLabel("For whom").fill("Señora Kowalski");
    await page.getByLabel("Otter Landing boathouse").check();
    await page.getByLabel("Gallery").check();
    await page.getByLabel("in 7 days").check();
    await fits();
    await page.getByRole("button", { name: "Make the link" }).click();
    await page.locator(".entries > li", { hasText: "Señora Kowalski" }).getByText("zone gallery only").waitFor();
    await page.getByRole("button", { name: "Withdraw: Señora Kowalski" }).click();
    await page.getByRole("button", { name: "Sure? Withdraw" }).click();
    await expect.poll(() => page.locator(".entries > li", { hasText: "Señora Kowalski" }).count()).toBe(0);
    // Take away, and read all of it in the audit, of one person too.
    await page.getByRole("button", { name: "People", exact: true }).click();
    await page.getByRole("button", { name: `Take away: ${guest}` }).click();
    await page.getByRole("button", { name: "Sure? Take away" }).click();
    await expect.poll(() => page.locator(".entries > li b", { hasText: guest }).count()).toBe(0);
    await page.getByRole("button", { name: "Who did what" }).click();
    await page.locator(".audit").getByText("withdrew a link").first().waitFor();
    await page.getByLabel("Who", { exact: true }).selectOption("Rosa Lindt");
    await expect.poll(() => page.locator(".audit b").allInnerTexts()).not.toContain("Ada Ruiz");
    await expect.poll(() => page.locator(".audit li").count()).toBeGreaterThan(0);
    await fits();
    await close();
  });
});

describe("with accounts off", () => {
  it("nothing of them shows", async () => {
    const server = await startBoardServer();
    const { page, close } = await openPage(`${server.url}/#/people`, {}, EN);
    await page.getByRole("navigation").waitFor();
    await page.goto(`${server.url}/#/site/boathouse/zone/inner`);
    await page.locator(".heat-room").waitFor();
    await page.getByRole("button", { name: "More" }).click();
    await page.getByLabel("Your name").waitFor();
    expect(await page.locator(".bar-who").count()).toBe(0);
    expect(await page.evaluate(() => document.body.innerText)).not.toMatch(/sign (in|out)|password/i);
    await close();
    await server.kill();
  });
});
