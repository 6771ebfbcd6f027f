// The HTTP door with accounts on, over a desk in memory and real people in a store of its own.
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { LightMyRequestResponse } from "fastify";
import { CHANGE_HEADER, type Role } from "#contract/access.ts";
import type { HttpOptions } from "../../server/http/server.ts";
import { createPeople, type People } from "../../server/people/people.ts";
import { openStore } from "../../server/store/store.ts";
import { type Door, type Method, openDoor } from "./http-door.ts";

export const PASSWORD = "seven otters under a jetty";
const caller = { address: "192.0.2.7", device: null, agent: "test" };

export interface GuardedDoor {
  readonly door: Door;
  readonly people: People;
  /** The session cookie of somebody with this role, made on first use. */
  as(role: Role, sites?: readonly string[] | null): Promise<string>;
  /** The session cookie of whoever opens a new link. */
  byLink(role: "inspector" | "client", site: string, zone: string | null): string;
  ask(
    cookie: string | null,
    method: Method,
    path: string,
    body?: unknown,
    headers?: Record<string, string>,
  ): Promise<LightMyRequestResponse>;
  end(): Promise<void>;
}

export async function openGuardedDoor(options: Partial<HttpOptions> = {}): Promise<GuardedDoor> {
  const folder = mkdtempSync(join(tmpdir(), "nightslab-door-"));
  const store = openStore(folder);
  const people = createPeople({
    store: store.people,
    mode: "on",
    nowMs: Date.now,
    steadyMs: () => performance.now(),
    siteNames: () => ["boathouse"],
    budget: { perS: 1000, burst: 1000 },
  });
  const door = await openDoor({ access: people, ...options });
  const cookies = new Map<string, string>();
  const cookieOf = (token: string) => `nightslab-session=${token}`;
  return {
    door,
    people,
    async as(role, sites = null) {
      const key = `${role} ${sites?.join() ?? ""}`;
      const made = cookies.get(key);
      if (made !== undefined) return made;
      const invited = people.invite({ role, sites: sites === null ? null : [...sites] }, null);
      if (!invited.ok) throw new Error(JSON.stringify(invited));
      const name = `${role} ${cookies.size + 1}`;
      const signed = await people.accept({ token: invited.value.token, name, password: PASSWORD }, caller);
      if (!signed.ok) throw new Error(JSON.stringify(signed));
      const cookie = cookieOf(signed.value.token);
      cookies.set(key, cookie);
      return cookie;
    },
    byLink(role, site, zone) {
      const opened = people.openLink(people.makeLink({ role, site, zone, label: "a link" }, null).token, caller);
      if (!opened.ok) throw new Error(JSON.stringify(opened));
      return cookieOf(opened.value.token);
    },
    ask: (cookie, method, path, body, headers = {}) =>
      door.ask(method, path, body, {
        ...(method === "GET" ? {} : { [CHANGE_HEADER]: "1" }),
        ...(cookie === null ? {} : { cookie }),
        ...headers,
      }),
    async end() {
      await door.app.close();
      store.close();
      rmSync(folder, { recursive: true });
    },
  };
}
