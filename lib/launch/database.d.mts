export interface LabDatabase {
  ownerUrl: string;
  appUrl: string;
  adminUrl: string | undefined;
  release: () => Promise<void>;
}

export function openLabDatabase(options: {
  dataDir: string;
  env: Record<string, string | undefined>;
  isProduction: boolean;
  log: (line: string) => void;
}): Promise<LabDatabase>;
export function givenUrls(
  env: Record<string, string | undefined>,
  isProduction: boolean,
): LabDatabase | undefined;
