// The port of the door towards people: who a token is, the ways in, and what an owner may do about them.
import type * as Access from "#contract/access.ts";
import type { Fault } from "#contract/faults.ts";

/** `unknown`: no such name and password, 401. `wait`: too many tries, 429 with `waitS`. The others as the desk's. */
export interface AccessRefusal {
  readonly ok: false;
  readonly refusal: "missing" | "invalid" | "conflict" | "unknown" | "wait";
  readonly faults: readonly Fault[];
  readonly waitS?: number;
}
export type AccessAnswer<T> = { readonly ok: true; readonly value: T } | AccessRefusal;

/** Whoever stands at the door. `device`: a token that this browser was given before. */
export interface Caller {
  readonly address: string;
  readonly device: string | null;
  readonly agent: string;
}
/** Somebody whom the door has recognised. */
export interface Known {
  readonly who: Access.Who;
  readonly session: string;
  readonly id: string;
}
/** Just signed in: both tokens go into cookies and nowhere else. */
export interface Signed {
  readonly who: Access.Who;
  readonly token: string;
  readonly device: string;
}
export interface AuditNote {
  readonly who: string | null;
  readonly role: Access.Role | null;
  readonly did: string;
  readonly site: string | null;
  readonly about: string;
  readonly address: string;
}
type Entered = Promise<AccessAnswer<Signed>>;

export interface AccessDesk {
  readonly mode: "on" | "off";
  needsFirstOwner(): boolean;
  /** Null for a token that never was, has ended, or is too old. */
  whoIs(token: string, address: string): Known | null;
  signIn(body: Access.SignInBody, caller: Caller): Entered;
  firstOwner(body: Access.FirstOwnerBody, caller: Caller): Entered;
  offer(token: string): AccessAnswer<Access.OfferBody>;
  accept(body: Access.AcceptBody, caller: Caller): Entered;
  reset(body: Access.ResetBody, caller: Caller): Entered;
  openLink(token: string, caller: Caller): AccessAnswer<Signed>;
  changePassword(by: Known, body: Access.PasswordChangeBody, caller: Caller): Promise<AccessAnswer<null>>;
  signOut(session: string): void;

  people(): readonly Access.PersonBody[];
  changePerson(id: string, change: Access.PersonChangeBody): AccessAnswer<Access.PersonBody>;
  removePerson(id: string): AccessAnswer<null>;
  makeReset(id: string, by: string | null): AccessAnswer<Access.ResetMadeBody>;
  invitations(): readonly Access.InvitationBody[];
  invite(wish: Access.InvitationWishBody, by: string | null): AccessAnswer<Access.InvitationMadeBody>;
  withdrawInvitation(id: string): AccessAnswer<null>;
  links(): readonly Access.LinkBody[];
  makeLink(wish: Access.LinkWishBody, by: string | null): Access.LinkMadeBody;
  withdrawLink(id: string): AccessAnswer<null>;
  /** `all`: of everybody; else of the one who asks. */
  sessions(by: Known | null, all: boolean): readonly Access.SessionBody[];
  endSession(id: string, by: Known | null, all: boolean): AccessAnswer<null>;

  note(line: AuditNote): void;
  audit(query: {
    readonly before: number | null;
    readonly who: string | null;
    readonly site: string | null;
    readonly limit: number;
  }): readonly Access.AuditLineBody[];
}
