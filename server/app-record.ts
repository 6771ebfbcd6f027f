// The record in the running server: what it reads, the closing of days, and the heads that go outside.
import type { PartHealth } from "#contract/health.ts";
import { isoFromMs } from "#contract/primitives.ts";
import { createRecordSource } from "./live/record-source.ts";
import type { Moments } from "./live/moments.ts";
import type { Sites } from "./live/sites.ts";
import { allOf, createAnchor, type HeadSender, webHookSender } from "./record/anchor.ts";
import { type MailAnchor, mailSender } from "./record/anchor-mail.ts";
import { createPdfDesk } from "./record/pdf-desk.ts";
import { RECORD_PDF } from "./record/pdf/record-pdf.ts";
import type { AuditLine, RecordSource } from "./record/ports.ts";
import { createRecorder } from "./record/recorder.ts";
import type { Store } from "./store/ports.ts";

export interface RecordAppParts {
  readonly sites: Sites;
  readonly store: Store;
  readonly moments: Moments;
  readonly anchorUrl: string | null;
  readonly anchorMail: MailAnchor | null;
  readonly failed: (what: string, error: unknown) => void;
  /** Told of the days that were closed, if any were. */
  readonly closed: (days: readonly unknown[]) => void;
}

const AUDIT_PAGE = 500;

/** The audit of a site, oldest first, without the addresses that people came from. */
function auditLines(store: Store, site: string): AuditLine[] {
  const lines: AuditLine[] = [];
  for (let before: number | null = null; ; ) {
    const page = store.people.audit({ before, who: null, site, limit: AUDIT_PAGE });
    for (const { atMs, who, role, did, about } of page) lines.push({ at: isoFromMs(atMs), who, role, did, about });
    before = page.at(-1)?.seq ?? null;
    if (page.length < AUDIT_PAGE || before === null) return lines.reverse();
  }
}

export function createRecord({ sites, store, moments, anchorUrl, anchorMail, failed, closed }: RecordAppParts) {
  let stopped = false;
  let closing: Promise<void> = Promise.resolve();
  let isClosing = false;
  let closeFailure: string | null = null;
  const source: RecordSource = {
    ...createRecordSource({ sites, store, moments }),
    history: (site) => store.records.history(site),
    calls: (site, zone, fromMs) => store.calls.linkedSince(site, zone, fromMs),
    hashes: (site) => store.journal.hashes(site),
    chain: store.heads,
    audit: (site) => auditLines(store, site),
    photo: (site, id) => store.photos.picture(site, id, "full"),
  };
  const senders: HeadSender[] = [];
  if (anchorUrl !== null) senders.push(webHookSender(anchorUrl));
  if (anchorMail !== null) senders.push(mailSender(anchorMail));
  const anchor = createAnchor({
    waiting: () =>
      sites
        .all()
        .flatMap(({ id }) => store.heads.heads(id).filter(({ anchoredMs }) => anchoredMs === null))
        .map(({ site, day, head }) => ({ site, day, head })),
    taken: ({ site, day }) => store.heads.anchored(site, day, moments.now()),
    sender: allOf(senders),
    steadyMs: () => performance.now(),
    failed: (error) => failed("sending the head of a day", error),
  });

  async function work(): Promise<void> {
    try {
      closed(await store.heads.closeDays(moments.now(), () => stopped));
      closeFailure = null;
    } catch (error) {
      closeFailure = error instanceof Error ? error.message : String(error);
      failed("closing a day", error);
    }
    if (!stopped) await anchor.tick();
  }

  const recorder = createRecorder(source, RECORD_PDF);
  return {
    recorder: { ...recorder, ...createPdfDesk({ pdf: RECORD_PDF, record: recorder, photo: source.photo }) },
    /** Closes what is over and sends what waits; one at a time. */
    tick(): void {
      if (isClosing || stopped) return;
      isClosing = true;
      closing = work().finally(() => (isClosing = false));
    },
    health: (): PartHealth =>
      closeFailure === null ? anchor.health() : { state: "degraded", detail: `a day was not closed: ${closeFailure}` },
    async close(): Promise<void> {
      stopped = true;
      await closing;
    },
  };
}
