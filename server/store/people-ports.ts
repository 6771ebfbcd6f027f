// What the store keeps of people. Every secret arrives here hashed.
import type { Role } from "#contract/access.ts";

export interface PersonRow {
  readonly id: string;
  readonly name: string;
  /** The name as it is compared. */
  readonly nameKey: string;
  readonly role: Role;
  readonly sites: readonly string[] | null;
  readonly password: string;
  readonly madeMs: number;
}

export interface SessionRow {
  readonly id: string;
  readonly person: string | null;
  readonly link: string | null;
  readonly agent: string;
  readonly address: string;
  readonly madeMs: number;
  readonly seenMs: number;
}

export interface TicketRow {
  readonly id: string;
  readonly kind: "invitation" | "reset" | "first-owner";
  readonly role: Role | null;
  readonly sites: readonly string[] | null;
  readonly person: string | null;
  readonly note: string | null;
  readonly by: string | null;
  readonly madeMs: number;
  readonly expiresMs: number;
}

export interface LinkRow {
  readonly id: string;
  readonly role: "inspector" | "client";
  readonly site: string;
  readonly zone: string | null;
  readonly label: string;
  readonly by: string | null;
  readonly madeMs: number;
  readonly expiresMs: number | null;
  readonly seenMs: number | null;
}

export interface AuditRow {
  readonly atMs: number;
  readonly who: string | null;
  readonly role: Role | null;
  readonly did: string;
  readonly site: string | null;
  readonly about: string;
  readonly address: string;
}

export interface AuditQuery {
  /** Lines before this number; null = the newest. */
  readonly before: number | null;
  readonly who: string | null;
  readonly site: string | null;
  readonly limit: number;
}

export interface PeopleStore {
  people(): PersonRow[];
  person(id: string): PersonRow | null;
  personNamed(nameKey: string): PersonRow | null;
  addPerson(row: PersonRow): void;
  changePerson(id: string, role: Role, sites: readonly string[] | null): void;
  setPassword(id: string, hash: string): void;
  removePerson(id: string, atMs: number): void;

  addTicket(hash: string, row: TicketRow): void;
  /** One that was neither used nor taken back. */
  ticket(hash: string): TicketRow | null;
  tickets(kind: TicketRow["kind"]): TicketRow[];
  /** True for the one who comes first. */
  useTicket(id: string, atMs: number): boolean;
  /** Those of one kind and person (null: of nobody) let nobody in any more. */
  dropTickets(kind: TicketRow["kind"], person: string | null, atMs: number): void;

  addSession(hash: string, deviceHash: string, row: SessionRow): void;
  /** One that has not ended. */
  session(hash: string): SessionRow | null;
  sessions(): SessionRow[];
  seen(session: string, atMs: number, address: string): void;
  endSession(id: string, atMs: number): boolean;
  /** Ends all of a person or a link, but for `except`. */
  endSessions(of: { readonly person: string } | { readonly link: string }, except: string | null, atMs: number): void;
  knowsDevice(person: string, deviceHash: string): boolean;
  /** Forgets sessions and tickets that were last of use before this. */
  forget(beforeMs: number): void;

  addLink(hash: string, row: LinkRow): void;
  /** One that was not withdrawn. */
  link(id: string): LinkRow | null;
  linkOf(hash: string): LinkRow | null;
  links(): LinkRow[];
  linkSeen(id: string, atMs: number): void;
  withdrawLink(id: string, atMs: number): boolean;

  note(row: AuditRow): void;
  /** Newest first. */
  audit(query: AuditQuery): (AuditRow & { readonly seq: number })[];
  together<T>(work: () => T): T;
}
