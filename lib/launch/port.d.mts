export const DEFAULT_PORT: number;
export function readPort(text: string | undefined): number | undefined;
export function isPortFree(port: number, host?: string): Promise<boolean>;
export function choosePort(options: {
  asked: number | undefined;
  host?: string;
  isFree?: (port: number) => Promise<boolean>;
}): Promise<number>;
export function findFreePort(): Promise<number>;
