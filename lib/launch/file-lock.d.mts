export function acquireLock(
  path: string,
  options: { timeoutMs: number; onWait?: (holder: string) => void },
): Promise<() => void>;
