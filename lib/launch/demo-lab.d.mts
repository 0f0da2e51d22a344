export interface SignIn {
  role: string;
  signInName: string;
  password: string;
}

export function newPassword(): string;
export function readSignIns(dataDir: string): SignIn[] | undefined;
export function loadDemoLab(options: {
  root: string;
  dataDir: string;
  ownerUrl: string;
  env: Record<string, string | undefined>;
  log: string;
}): Promise<void>;
export function clearInterruptedLoad(options: { adminUrl: string | undefined }): Promise<void>;
