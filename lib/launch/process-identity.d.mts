export function identityOf(pid: number): string | undefined;
export function isAlive(identity: string): boolean;
