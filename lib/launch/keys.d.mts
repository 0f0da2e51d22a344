export interface Keys {
  NEXTAUTH_SECRET: string;
  AFTERBEAT_MASTER_KEY: string;
  AFTERBEAT_IDENTITY_KEY: string;
}

export function openKeys(options: {
  dataDir: string;
  env: Record<string, string | undefined>;
  mayCreateDataKeys: boolean;
}): Keys;
export function createOnce(file: string, text: string): void;
