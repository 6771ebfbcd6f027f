// What the pages of signing in, of the owner and of the client ask of the server. Loaded with those pages.
import type {
  AcceptBody,
  AccessBody,
  AuditLineBody,
  ClientPageBody,
  FirstOwnerBody,
  InvitationBody,
  InvitationMadeBody,
  InvitationWishBody,
  LinkBody,
  LinkMadeBody,
  LinkWishBody,
  OfferBody,
  PasswordChangeBody,
  PersonBody,
  PersonChangeBody,
  ResetBody,
  ResetMadeBody,
  SessionBody,
  SignInBody,
} from "#contract/access.ts";
import { ask, change } from "./api.ts";

const post = <T>(path: string, body: unknown = {}) => ask<T>(path, change("POST", body));
const remove = (path: string) => ask<null>(path, change("DELETE"));
const one = (id: string) => encodeURIComponent(id);

export interface AuditWish {
  readonly who: string | null;
  readonly before: number | null;
  readonly limit: number;
}

function auditQuery({ who, before, limit }: AuditWish): string {
  const query = new URLSearchParams({ limit: String(limit) });
  if (who !== null) query.set("who", who);
  if (before !== null) query.set("before", String(before));
  return query.toString();
}

export const accessApi = {
  signIn: (body: SignInBody) => post<AccessBody>("/sign-in", body),
  signOut: () => post<AccessBody>("/sign-out"),
  firstOwner: (body: FirstOwnerBody) => post<AccessBody>("/first-owner", body),
  offer: (token: string) => post<OfferBody>("/invitations/offer", { token }),
  accept: (body: AcceptBody) => post<AccessBody>("/invitations/accept", body),
  reset: (body: ResetBody) => post<AccessBody>("/reset", body),
  openLink: (token: string) => post<AccessBody>("/links/open", { token }),
  password: (body: PasswordChangeBody) => post<null>("/password", body),
  people: async () => (await ask<{ people: PersonBody[] }>("/people")).people,
  changePerson: (id: string, body: PersonChangeBody) => ask<PersonBody>(`/people/${one(id)}`, change("PATCH", body)),
  removePerson: (id: string) => remove(`/people/${one(id)}`),
  resetPerson: (id: string) => post<ResetMadeBody>(`/people/${one(id)}/reset`),
  invitations: async () => (await ask<{ invitations: InvitationBody[] }>("/invitations")).invitations,
  invite: (body: InvitationWishBody) => post<InvitationMadeBody>("/invitations", body),
  takeBack: (id: string) => remove(`/invitations/${one(id)}`),
  links: async () => (await ask<{ links: LinkBody[] }>("/links")).links,
  makeLink: (body: LinkWishBody) => post<LinkMadeBody>("/links", body),
  withdraw: (id: string) => remove(`/links/${one(id)}`),
  sessions: async () => (await ask<{ sessions: SessionBody[] }>("/sessions")).sessions,
  endSession: (id: string) => remove(`/sessions/${one(id)}`),
  audit: async (wish: AuditWish) => (await ask<{ lines: AuditLineBody[] }>(`/audit?${auditQuery(wish)}`)).lines,
  clientPage: (site: string) => ask<ClientPageBody>(`/sites/${one(site)}/client-page`),
};
