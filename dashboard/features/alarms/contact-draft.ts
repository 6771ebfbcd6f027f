// What a person types of a contact, and what it becomes for the server. Pure.
import type { ContactBody, ContactWish, OwnContactWish } from "#contract/notify.ts";

export type LevelsWish = "both" | "wake" | "none";
export type CaresWish = "all" | "site" | "zones" | "other";

export interface ContactDraft {
  readonly name: string;
  readonly language: "en" | "es";
  readonly units: "us" | "si";
  readonly mail: string;
  readonly mailLevels: LevelsWish;
  readonly pushLevels: LevelsWish;
  readonly quiet: boolean;
  readonly quietFrom: string;
  readonly quietTo: string;
  readonly allWell: boolean;
  readonly allWellAt: string;
  readonly cares: CaresWish;
  readonly zones: readonly string[];
  /** Empty = as it is. */
  readonly hook: string;
  readonly hookOut: boolean;
}

const LEVELS: Readonly<Record<LevelsWish, ("wake" | "tell")[]>> = { both: ["wake", "tell"], wake: ["wake"], none: [] };

function wishFrom(levels: readonly string[]): LevelsWish {
  return levels.includes("tell") ? "both" : levels.includes("wake") ? "wake" : "none";
}

export function draftOf(
  contact: ContactBody | null,
  site: string,
  first: Pick<ContactDraft, "name" | "language" | "units">,
): ContactDraft {
  const here = contact?.sites?.find((one) => one.site === site);
  const { language, units, name } = contact ?? first;
  return {
    ...{ name, language, units },
    mail: contact?.mail?.address ?? "",
    mailLevels: wishFrom(contact?.mail?.levels ?? ["wake", "tell"]),
    pushLevels: wishFrom(contact?.pushLevels ?? ["wake", "tell"]),
    quiet: contact === null || contact.quiet !== null,
    quietFrom: contact?.quiet?.from ?? "20:00",
    quietTo: contact?.quiet?.to ?? "06:00",
    allWell: contact !== null && contact.allWellAt !== null,
    allWellAt: contact?.allWellAt ?? "06:00",
    cares:
      contact === null || contact.sites === null
        ? "all"
        : here === undefined
          ? "other"
          : here.zones === null
            ? "site"
            : "zones",
    zones: here?.zones ?? [],
    ...{ hook: "", hookOut: false },
  };
}

export type ContactFault = "name" | "mail" | "quiet" | "allWell" | "zones" | "hook";
const CLOCK = /^([01][0-9]|2[0-3]):[0-5][0-9]$/;
const MAIL = /^[^\s@,;<>]+@[^\s@,;<>]+$/;
const WEB = /^https?:\/\/[^\s@]+$/;

export function faultsOf(draft: ContactDraft): ReadonlySet<ContactFault> {
  const faults = new Set<ContactFault>();
  if (draft.name.trim() === "") faults.add("name");
  if (draft.mail.trim() !== "" && !MAIL.test(draft.mail.trim())) faults.add("mail");
  if (draft.quiet && !(CLOCK.test(draft.quietFrom) && CLOCK.test(draft.quietTo))) faults.add("quiet");
  if (draft.allWell && !CLOCK.test(draft.allWellAt)) faults.add("allWell");
  if (draft.cares === "zones" && draft.zones.length === 0) faults.add("zones");
  if (draft.hook.trim() !== "" && !WEB.test(draft.hook.trim())) faults.add("hook");
  return faults;
}

/** What a contact cares for on other sites stays as it is. */
function sitesOf({ cares, zones }: ContactDraft, before: ContactBody | null, site: string): ContactWish["sites"] {
  if (cares === "all") return null;
  const others = (before?.sites ?? []).filter((one) => one.site !== site);
  if (cares === "other") return others;
  return [...others, { site, zones: cares === "site" ? null : [...zones] }];
}

/** A draft without faults. */
export function wishOf(draft: ContactDraft, before: ContactBody | null, site: string): Required<OwnContactWish> {
  const { name, language, units, mail, mailLevels, pushLevels, quiet, quietFrom, quietTo } = draft;
  return {
    ...{ name: name.trim(), language, units },
    mail: mail.trim() === "" ? null : { address: mail.trim(), levels: LEVELS[mailLevels] },
    pushLevels: LEVELS[pushLevels],
    quiet: quiet ? { from: quietFrom, to: quietTo } : null,
    allWellAt: draft.allWell ? draft.allWellAt : null,
    sites: sitesOf(draft, before, site),
  };
}

/** Nothing where the web hook stays as it is. */
export function hookWishOf({ hook, hookOut }: ContactDraft): Pick<ContactWish, "webhook"> {
  if (hook.trim() !== "") return { webhook: { url: hook.trim(), levels: ["wake", "tell"] } };
  return hookOut ? { webhook: null } : {};
}
