// Names of backups: by the time of their making, so that they sort by it.

const NAME = /^nightslab-\d{8}T\d{6}Z\.backup$/;

export function backupName(nowMs: number): string {
  return `nightslab-${new Date(nowMs).toISOString().replace(/[-:]|\.\d+/g, "")}.backup`;
}

export function isBackupName(name: string): boolean {
  return NAME.test(name);
}
