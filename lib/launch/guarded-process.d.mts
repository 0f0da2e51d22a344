export interface GuardedProcess {
  exited: Promise<number>;
  stop: () => Promise<number>;
  isRunning: () => boolean;
}

export function startGuarded(
  command: string,
  args: string[],
  options: {
    cwd?: string;
    env?: Record<string, string | undefined>;
    stdio: 'inherit' | ['ignore', number, number];
  },
): GuardedProcess;
