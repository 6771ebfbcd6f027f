// Secrets in files, and the settings of keeping.
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { settingsFromEnv } from "../../server/settings.ts";

describe("a secret in a file", () => {
  let folder: string;
  const file = (name: string, text: string) => {
    writeFileSync(join(folder, name), text);
    return join(folder, name);
  };
  beforeAll(() => {
    folder = mkdtempSync(join(tmpdir(), "nightslab-secrets-"));
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const broker = { NIGHTSLAB_MQTT_URL: "mqtt://broker:1883", NIGHTSLAB_MQTT_USERNAME: "nightslab" };
  const faults = (env: Record<string, string>) => {
    const read = settingsFromEnv({ ...broker, ...env });
    return read.ok ? [] : read.faults;
  };

  it("is read without the line break at its end", () => {
    const path = file("word", "ebb and flow\n");
    expect(settingsFromEnv({ ...broker, NIGHTSLAB_MQTT_PASSWORD_FILE: path })).toMatchObject({
      ok: true,
      value: { mqttPassword: "ebb and flow" },
    });
  });

  it("is refused by name and reason when it cannot be read, is empty, or stands twice", () => {
    const missing = join(folder, "nowhere");
    expect(faults({ NIGHTSLAB_MQTT_PASSWORD_FILE: missing })).toEqual([
      { field: "NIGHTSLAB_MQTT_PASSWORD_FILE", reason: `names ${missing}, which cannot be read: ENOENT` },
    ]);
    const empty = file("empty", " \n");
    expect(faults({ NIGHTSLAB_MQTT_PASSWORD_FILE: empty })).toEqual([
      { field: "NIGHTSLAB_MQTT_PASSWORD_FILE", reason: `names ${empty}, which is empty` },
    ]);
    expect(faults({ NIGHTSLAB_MQTT_PASSWORD_FILE: file("a", "b"), NIGHTSLAB_MQTT_PASSWORD: "c" })).toEqual([
      { field: "NIGHTSLAB_MQTT_PASSWORD_FILE", reason: "stands beside NIGHTSLAB_MQTT_PASSWORD: one of the two" },
    ]);
  });

  it("holds what its setting may hold, and is for secrets only", () => {
    expect(
      settingsFromEnv({ NIGHTSLAB_JOIN_SECRET_FILE: file("short", "abc"), NIGHTSLAB_DATA_FILE: "x" }),
    ).toMatchObject({
      ok: false,
      faults: [{ field: "NIGHTSLAB_DATA_FILE", reason: "is not a setting" }, { field: "NIGHTSLAB_JOIN_SECRET" }],
    });
  });
});

describe("what is kept", () => {
  it("is deleted only after it was thinned", () => {
    const read = settingsFromEnv({ NIGHTSLAB_KEEP_RAW_DAYS: "90", NIGHTSLAB_DELETE_AFTER_DAYS: "60" });
    expect(read).toMatchObject({
      faults: [{ field: "NIGHTSLAB_DELETE_AFTER_DAYS", reason: "must be more than keepRawDays (90)" }],
    });
    expect(settingsFromEnv({ NIGHTSLAB_DELETE_AFTER_DAYS: "900" })).toMatchObject({
      value: { keepRawDays: 400, deleteAfterDays: 900, backupKeep: 7 },
    });
  });
});
