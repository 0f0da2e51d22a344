export function isInstalled(root: string, options: { withDevelopment: boolean }): boolean;
export function install(options: { root: string; withDevelopment: boolean; log: string }): Promise<void>;
