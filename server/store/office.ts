// What an office heard of many sites, in the embedded database.
import type { Database } from "./sql.ts";

export const OFFICE = `
CREATE TABLE office (
  kind TEXT NOT NULL, site TEXT NOT NULL, key TEXT NOT NULL, body TEXT NOT NULL, heard_ms INTEGER NOT NULL,
  PRIMARY KEY (kind, site, key)
) WITHOUT ROWID;
`;

export interface OfficeRow {
  readonly kind: "about" | "call" | "alarm";
  readonly site: string;
  readonly key: string;
  readonly body: string;
  readonly heardMs: number;
}

export function createOfficeStore(db: Database) {
  const all = db.prepare("SELECT kind, site, key, body, heard_ms FROM office");
  const put = db.prepare(
    `INSERT INTO office (kind, site, key, body, heard_ms) VALUES (?1, ?2, ?3, ?4, ?5)
     ON CONFLICT (kind, site, key) DO UPDATE SET body = ?4, heard_ms = ?5`,
  );
  const drop = db.prepare("DELETE FROM office WHERE kind = ? AND site = ? AND key = ?");
  return {
    all: (): OfficeRow[] =>
      all.all().map(([kind, site, key, body, heardMs]) => ({
        kind: kind as OfficeRow["kind"],
        site: site as string,
        key: key as string,
        body: body as string,
        heardMs: heardMs as number,
      })),
    keep(rows: readonly OfficeRow[], gone: readonly Omit<OfficeRow, "body" | "heardMs">[]): void {
      db.together(() => {
        for (const { kind, site, key, body, heardMs } of rows) put.run(kind, site, key, body, heardMs);
        for (const { kind, site, key } of gone) drop.run(kind, site, key);
      });
    },
  };
}
