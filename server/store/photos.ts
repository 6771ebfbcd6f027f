// Pictures of the record in the embedded database: in one file with what points at them, so that a copy has both.
import type { KeptPhoto, PhotoStore } from "./photos-port.ts";
import type { Database } from "./sql.ts";

export const PHOTOS_SCHEMA = `
CREATE TABLE photos (
  site TEXT NOT NULL, id TEXT NOT NULL, sent_sha256 TEXT NOT NULL, width INTEGER NOT NULL, height INTEGER NOT NULL,
  heard_ms INTEGER NOT NULL, who TEXT, bytes INTEGER NOT NULL, thumb BLOB NOT NULL, jpeg BLOB NOT NULL,
  PRIMARY KEY (site, id)
);
`;

const COLUMNS = "id, sent_sha256, width, height, bytes, heard_ms, who";

function photoOf([id, sentSha256, widthPx, heightPx, bytes, heardMs, by]: readonly unknown[]): KeptPhoto {
  return { id, sentSha256, widthPx, heightPx, bytes, heardMs, by } as KeptPhoto;
}

export function createPhotos(db: Database): PhotoStore {
  const insert = db.prepare(
    `INSERT OR IGNORE INTO photos (site, id, sent_sha256, width, height, heard_ms, who, bytes, thumb, jpeg)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  );
  const one = db.prepare(`SELECT ${COLUMNS} FROM photos WHERE site = ? AND id = ?`);
  const all = db.prepare(`SELECT ${COLUMNS} FROM photos WHERE site = ? ORDER BY heard_ms, id`);
  const count = db.prepare("SELECT count(*) FROM photos WHERE site = ?");
  const full = db.prepare("SELECT jpeg FROM photos WHERE site = ? AND id = ?");
  const thumb = db.prepare("SELECT thumb FROM photos WHERE site = ? AND id = ?");
  return {
    add(site, { id, sentSha256, widthPx, heightPx, heardMs, by, jpeg, thumb: small }) {
      insert.run(site, id, sentSha256, widthPx, heightPx, heardMs, by, jpeg.length, small, jpeg);
      return photoOf(one.get(site, id) ?? []);
    },
    list: (site) => all.all(site).map(photoOf),
    count: (site) => count.get(site)?.[0] as number,
    picture: (site, id, size) =>
      ((size === "full" ? full : thumb).get(site, id)?.[0] as Uint8Array | undefined) ?? null,
  };
}
