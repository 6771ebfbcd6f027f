// A page whose file does not come: it says so, and the button fetches it again. The browser asks for a script once only.
import { afterAll, beforeAll, expect, it } from "vitest";
import { type BoardServer, startBoardServer } from "../support/board-server.ts";
import { openPage } from "./open-page.ts";

let server: BoardServer;
beforeAll(async () => {
  server = await startBoardServer();
});
afterAll(() => server.kill());

it("says what happened, and stands once the connection is back", async () => {
  const { page, close } = await openPage("about:blank", { keepsNothing: true }, null, /ERR_FAILED|not fetched/);
  let asked = 0;
  await page.route("**/help-room-*.js", (route) => {
    asked += 1;
    return asked <= 2 ? route.abort() : route.continue();
  });
  await page.goto(`${server.url}/#/site/boathouse/help`);
  const said = page.getByText("This page could not be loaded. Check the connection.");
  await said.waitFor();
  expect(asked).toBe(1);
  const again = page.getByRole("button", { name: "Try again" });
  await again.click();
  await expect.poll(() => asked).toBe(2);
  await said.waitFor();
  await again.click();
  await page.getByRole("heading", { name: "Words and rules" }).waitFor();
  expect(asked).toBe(3);
  await close();
});
