import { chmodSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { onTestFinished } from 'vitest';

/** A folder that is removed after the test; as root, the account that runs PostgreSQL may pass through it. */
export function temporaryFolder(mode = 0o711): string {
  const folder = mkdtempSync(path.join(tmpdir(), 'afterbeat-launch-'));
  chmodSync(folder, mode);
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }));
  return folder;
}
