export const NODE_RANGE: string;
export function isNodeSupported(version: string): boolean;
export function requireNode(version: string): void;
