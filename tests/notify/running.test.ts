// In the running server: from a cause to what a contact gets, sirens at the built-in broker, and whose contacts are whose.
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { readerOf } from "#contract/faults.ts";
import { ContactMadeSchema, ContactSchema, SirenMadeSchema, type WebhookMessage } from "#contract/notify.ts";
import { openGuardedDoor } from "../support/guarded-door.ts";
import { type RunningApp, runApp, until } from "../support/running-app.ts";
import { SITE } from "../support/small-site.ts";
import { openHouse, WISH } from "./house.ts";
import { type Hook, openHook } from "./post-box.ts";

const H = 3_600_000;
const headers = { "content-type": "application/json" };
const api = (running: RunningApp) => `${running.httpUrl}/api/v1`;
const post = (url: string, body: object, method = "POST") =>
  fetch(url, { method, headers, body: JSON.stringify(body) });

describe("a running server", () => {
  let hook: Hook;
  beforeEach(async () => void (hook = await openHook()));
  afterEach(() => hook.close());

  it("that was away tells so on its return, signed, and never gives a secret back", async () => {
    const first = await runApp();
    const secret = "never told again";
    const webhook = { url: `${hook.url}?key=in-the-address`, levels: ["tell"], secret };
    const made = await post(`${api(first)}/contacts`, { ...WISH, quiet: null, webhook });
    expect(made.status).toBe(201);
    const body = await made.text();
    expect(readerOf(ContactMadeSchema)(JSON.parse(body))).toMatchObject({ ok: true });
    expect(body).not.toMatch(/never told again|in-the-address/);
    await first.stop();
    const again = await runApp({ data: first.data, empty: true, atMs: first.nowMs() + 3 * H, pace: 240 });
    try {
      await until(() => hook.taken.length > 0);
      const message = JSON.parse(hook.taken[0]?.body ?? "") as WebhookMessage;
      expect(message).toMatchObject({ kind: "alarm", site: SITE.id, alarm: { kind: "server-away" } });
      const listed = await (await fetch(`${api(again)}/sites/${SITE.id}/deliveries`)).text();
      expect(JSON.parse(listed)).toMatchObject({ deliveries: [{ wayKind: "webhook", tries: 1, state: "sent" }] });
      const shown = await (await fetch(`${api(again)}/contacts`)).text();
      expect(listed + shown).not.toMatch(/never told again|in-the-address/);
      expect(again.app.desk.health().parts["telling"]).toMatchObject({ state: "up" });
    } finally {
      await again.end();
    }
  });

  it("lets a siren hear whether to sound, and nothing else; a removed one hangs up", async () => {
    const running = await runApp();
    try {
      const made = await post(`${api(running)}/sites/${SITE.id}/sirens`, { siren: "gate" });
      const siren: unknown = await made.json();
      expect(readerOf(SirenMadeSchema)(siren)).toMatchObject({ ok: true });
      const { username, password } = siren as { username: string; password: string };
      expect(username).toBe(`${SITE.id}/siren/gate`);
      await expect(running.client({ username, password: "a guess" })).rejects.toThrow();
      const client = await running.client({ username, password });
      const heard: string[] = [];
      client.on("message", (topic, payload) => void heard.push(`${topic} ${payload.toString("utf8")}`));
      const asked = ["siren", "alarm", "zone/+/call", "node/+/senml", "#"].map(
        (end) => `nightslab/v1/${SITE.id}/${end}`,
      );
      const granted: number[] = [];
      for (const topic of asked) {
        const [grant] = await client.subscribeAsync(topic, { qos: 1 }).catch(() => [{ qos: 128 }]);
        granted.push(grant?.qos ?? 128);
      }
      expect(granted.map((qos) => qos < 128)).toEqual([true, true, false, false, false]);
      await until(() => heard.length > 0);
      expect(heard).toEqual([expect.stringMatching(/\/siren \{"sound":false,"forS":0,/)]);
      const gone = new Promise<void>((resolve) => client.once("close", () => resolve()));
      expect((await fetch(`${api(running)}/sites/${SITE.id}/sirens/gate`, { method: "DELETE" })).status).toBe(204);
      await gone;
      await expect(running.client({ username, password })).rejects.toThrow();
    } finally {
      await running.end();
    }
  });

  it("hangs up on a siren that writes", async () => {
    const running = await runApp();
    try {
      const made = await post(`${api(running)}/sites/${SITE.id}/sirens`, { siren: "gate" });
      const { username, password } = (await made.json()) as { username: string; password: string };
      const client = await running.client({ username, password });
      const gone = new Promise<void>((resolve) => client.once("close", () => resolve()));
      client.publish(`nightslab/v1/${SITE.id}/siren`, '{"sound":true}', { qos: 1 });
      await gone;
    } finally {
      await running.end();
    }
  });
});

describe("with accounts", () => {
  it("everybody who reads keeps their own contact; others' and web hooks are for those who plan and own", async () => {
    const house = openHouse({
      person: (id) => ({ name: id, sites: null }),
      mail: { smtpUrl: "smtp://127.0.0.1:1", from: "a@b.example" },
    });
    const guarded = await openGuardedDoor({ notify: house.desk });
    try {
      const { webhook: _, name: __, ...wish } = WISH;
      const helper = await guarded.as("helper");
      const own = { ...wish, mail: { address: "helper@harbour.example", levels: ["wake"] } };
      expect((await guarded.ask(helper, "GET", "/own-contact")).json()).toEqual({ contact: null });
      expect((await guarded.ask(helper, "POST", "/own-contact/test", {})).statusCode).toBe(404);
      const put = await guarded.ask(helper, "PUT", "/own-contact", own);
      expect(put.statusCode, put.body).toBe(200);
      const contact = put.json<{ id: string; name: string; person: string }>();
      expect(readerOf(ContactSchema)(contact)).toMatchObject({ ok: true });
      expect(contact.name).toMatch(/^helper/);
      const again = await guarded.ask(helper, "PUT", "/own-contact", { ...own, language: "es" });
      expect(again.json()).toMatchObject({ id: contact.id, language: "es" });
      expect((await guarded.ask(helper, "GET", "/contacts")).statusCode).toBe(403);
      const inspector = await guarded.as("inspector");
      expect((await guarded.ask(inspector, "GET", "/own-contact")).json()).toEqual({ contact: null });
      const bad = await guarded.ask(helper, "PUT", "/own-contact", { ...own, quiet: { from: "25:00", to: "06:00" } });
      expect(bad.statusCode).toBe(422);
      expect(bad.body).toContain("/quiet/from");
      const nowhere = await guarded.ask(helper, "PUT", "/own-contact", {
        ...own,
        sites: [{ site: "attic", zones: null }],
      });
      expect(nowhere.json()).toMatchObject({ faults: [{ field: "/sites/0/site", reason: 'no site "attic"' }] });

      const hook = { url: "http://10.0.0.1/", levels: ["wake"] };
      const lead = await guarded.as("lead");
      const owner = await guarded.as("owner");
      expect((await guarded.ask(lead, "POST", "/contacts", { ...WISH, webhook: hook })).statusCode).toBe(403);
      expect((await guarded.ask(lead, "POST", "/contacts", WISH)).statusCode).toBe(201);
      const made = await guarded.ask(owner, "POST", "/contacts", { ...WISH, webhook: hook });
      expect(made.json<{ webhookSecret: string }>().webhookSecret).toMatch(/^[\w-]{43}$/);
      const { id } = made.json<{ id: string }>();
      const changed = await guarded.ask(lead, "PATCH", `/contacts/${id}`, { name: "Bo" });
      expect(changed.json()).toMatchObject({
        name: "Bo",
        webhookSecret: null,
        ways: [{ kind: "webhook", label: "10.0.0.1" }],
      });

      const order = (body: object) => guarded.ask(lead, "PUT", "/sites/boathouse/on-call", body);
      expect((await order({ order: [id, contact.id] })).json()).toMatchObject({ order: [{ name: "Bo" }, {}] });
      expect((await order({ order: ["c-nobody"] })).json()).toMatchObject({ faults: [{ field: "/order/0" }] });
      expect((await guarded.ask(lead, "DELETE", `/contacts/${id}`)).statusCode).toBe(204);
      expect((await guarded.ask(helper, "GET", "/sites/boathouse/on-call")).json()).toMatchObject({
        order: [{ contact: contact.id }],
      });
    } finally {
      await guarded.end();
      await house.end();
    }
  });
});
