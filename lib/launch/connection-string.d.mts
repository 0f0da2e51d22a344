export function withUtc(url: string, variable?: string): string;
export function withoutPassword(url: string): string;
