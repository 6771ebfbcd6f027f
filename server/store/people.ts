// People, sessions, tickets and links in the embedded database.
import type { Role } from "#contract/access.ts";
import type { LinkRow, PeopleStore, PersonRow, SessionRow, TicketRow } from "./people-ports.ts";
import { createAudit } from "./people-audit.ts";
import type { Database, Row, Value } from "./sql.ts";

const sitesOf = (text: Value | undefined) => (typeof text === "string" ? (JSON.parse(text) as string[]) : null);
const textOf = (sites: readonly string[] | null) => (sites === null ? null : JSON.stringify(sites));

const PERSON = "SELECT id, name, name_key, role, sites, password, made_ms FROM people WHERE removed_ms IS NULL";
const personFrom = ([id, name, nameKey, role, sites, password, madeMs]: Row): PersonRow => ({
  id: id as string,
  name: name as string,
  nameKey: nameKey as string,
  role: role as Role,
  sites: sitesOf(sites),
  password: password as string,
  madeMs: madeMs as number,
});

const SESSION = "SELECT id, person, link, agent, address, made_ms, seen_ms FROM sessions WHERE ended_ms IS NULL";
const sessionFrom = ([id, person, link, agent, address, madeMs, seenMs]: Row): SessionRow => ({
  id: id as string,
  person: person as string | null,
  link: link as string | null,
  agent: agent as string,
  address: address as string,
  madeMs: madeMs as number,
  seenMs: seenMs as number,
});

const TICKET = "SELECT id, kind, role, sites, person, note, by, made_ms, expires_ms FROM tickets WHERE used_ms IS NULL";
const ticketFrom = ([id, kind, role, sites, person, note, by, madeMs, expiresMs]: Row): TicketRow => ({
  id: id as string,
  kind: kind as TicketRow["kind"],
  role: role as Role | null,
  sites: sitesOf(sites),
  person: person as string | null,
  note: note as string | null,
  by: by as string | null,
  madeMs: madeMs as number,
  expiresMs: expiresMs as number,
});

const LINK =
  "SELECT id, role, site, zone, label, by, made_ms, expires_ms, seen_ms FROM links WHERE withdrawn_ms IS NULL";
const linkFrom = ([id, role, site, zone, label, by, madeMs, expiresMs, seenMs]: Row): LinkRow => ({
  id: id as string,
  role: role as LinkRow["role"],
  site: site as string,
  zone: zone as string | null,
  label: label as string,
  by: by as string | null,
  madeMs: madeMs as number,
  expiresMs: expiresMs as number | null,
  seenMs: seenMs as number | null,
});

export function createPeopleStore(db: Database): PeopleStore {
  /** Statements are few and small; each is prepared when it is first needed. */
  const prepared = new Map<string, ReturnType<Database["prepare"]>>();
  const sql = (text: string) => {
    const known = prepared.get(text) ?? db.prepare(text);
    prepared.set(text, known);
    return known;
  };
  const all = <T>(text: string, from: (row: Row) => T, ...values: Value[]): T[] =>
    sql(text)
      .all(...values)
      .map(from);
  const one = <T>(text: string, from: (row: Row) => T, ...values: Value[]): T | null => {
    const row = sql(text).get(...values);
    return row === undefined ? null : from(row);
  };
  const run = (text: string, ...values: Value[]) => sql(text).run(...values).changes > 0;

  return {
    people: () => all(`${PERSON} ORDER BY name_key`, personFrom),
    person: (id) => one(`${PERSON} AND id = ?`, personFrom, id),
    personNamed: (nameKey) => one(`${PERSON} AND name_key = ?`, personFrom, nameKey),
    addPerson({ id, name, nameKey, role, sites, password, madeMs }) {
      run(
        "INSERT INTO people (id, name, name_key, role, sites, password, made_ms) VALUES (?, ?, ?, ?, ?, ?, ?)",
        ...[id, name, nameKey, role, textOf(sites), password, madeMs],
      );
    },
    changePerson: (id, role, sites) =>
      void run("UPDATE people SET role = ?, sites = ? WHERE id = ?", role, textOf(sites), id),
    setPassword: (id, hash) => void run("UPDATE people SET password = ? WHERE id = ?", hash, id),
    removePerson: (id, atMs) => void run("UPDATE people SET removed_ms = ?, password = '' WHERE id = ?", atMs, id),

    addTicket(hash, { id, kind, role, sites, person, note, by, madeMs, expiresMs }) {
      run(
        "INSERT INTO tickets (id, hash, kind, role, sites, person, note, by, made_ms, expires_ms) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)",
        ...[id, hash, kind, role, textOf(sites), person, note, by, madeMs, expiresMs],
      );
    },
    ticket: (hash) => one(`${TICKET} AND hash = ?`, ticketFrom, hash),
    tickets: (kind) => all(`${TICKET} AND kind = ? ORDER BY made_ms DESC`, ticketFrom, kind),
    useTicket: (id, atMs) => run("UPDATE tickets SET used_ms = ? WHERE id = ? AND used_ms IS NULL", atMs, id),
    dropTickets: (kind, person, atMs) =>
      void run("UPDATE tickets SET used_ms = ? WHERE kind = ? AND person IS ? AND used_ms IS NULL", atMs, kind, person),

    addSession(hash, deviceHash, { id, person, link, agent, address, madeMs, seenMs }) {
      run(
        "INSERT INTO sessions (id, token_hash, device_hash, person, link, agent, address, made_ms, seen_ms) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        ...[id, hash, deviceHash, person, link, agent, address, madeMs, seenMs],
      );
    },
    session: (hash) => one(`${SESSION} AND token_hash = ?`, sessionFrom, hash),
    sessions: () => all(`${SESSION} ORDER BY seen_ms DESC`, sessionFrom),
    seen: (id, atMs, address) =>
      void run("UPDATE sessions SET seen_ms = ?, address = ? WHERE id = ?", atMs, address, id),
    endSession: (id, atMs) => run("UPDATE sessions SET ended_ms = ? WHERE id = ? AND ended_ms IS NULL", atMs, id),
    endSessions(of, except, atMs) {
      const [column, value] = "person" in of ? ["person", of.person] : ["link", of.link];
      run(
        `UPDATE sessions SET ended_ms = ? WHERE ${column} = ? AND ended_ms IS NULL AND id IS NOT ?`,
        atMs,
        value,
        except,
      );
    },
    knowsDevice: (person, deviceHash) =>
      one("SELECT 1 FROM sessions WHERE person = ? AND device_hash = ? LIMIT 1", () => true, person, deviceHash) ??
      false,
    forget(beforeMs) {
      run("DELETE FROM sessions WHERE seen_ms < ?", beforeMs);
      run("DELETE FROM tickets WHERE expires_ms < ?", beforeMs);
    },

    addLink(hash, { id, role, site, zone, label, by, madeMs, expiresMs }) {
      run(
        "INSERT INTO links (id, hash, role, site, zone, label, by, made_ms, expires_ms) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)",
        ...[id, hash, role, site, zone, label, by, madeMs, expiresMs],
      );
    },
    link: (id) => one(`${LINK} AND id = ?`, linkFrom, id),
    linkOf: (hash) => one(`${LINK} AND hash = ?`, linkFrom, hash),
    links: () => all(`${LINK} ORDER BY made_ms DESC`, linkFrom),
    linkSeen: (id, atMs) => void run("UPDATE links SET seen_ms = ? WHERE id = ?", atMs, id),
    withdrawLink: (id, atMs) =>
      run("UPDATE links SET withdrawn_ms = ? WHERE id = ? AND withdrawn_ms IS NULL", atMs, id),

    ...createAudit(db),
    together: (work) => db.together(work),
  };
}
