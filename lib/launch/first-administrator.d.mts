export function makeFirstRunLink(options: { ownerUrl: string; address: string }): Promise<string>;
