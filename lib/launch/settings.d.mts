export interface Settings {
  isProduction: boolean;
  dataDir: string;
  port: number | undefined;
  host: string;
  rest: string[];
}

export function readSettings(given: {
  args: string[];
  env: Record<string, string | undefined>;
  root: string;
}): Settings;
