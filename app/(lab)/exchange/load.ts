import 'server-only';
import { requireActor } from '@/app/require-actor';
import { isAllowed } from '@/lib/access/permissions';
import { EXAMPLE_MAPPING } from '@/lib/exchange/rhythm-mapping';
import { type PastImport, readImports } from '@/lib/records/imports/read';

export interface ExchangePage {
  readonly imports: readonly PastImport[];
  readonly mayImport: boolean;
  readonly exampleMapping: string;
}

/** What has been imported, and whether this person may import. */
export async function loadExchange(): Promise<ExchangePage> {
  const actor = await requireActor('exchange.read');
  return {
    imports: await readImports(actor),
    mayImport: isAllowed(actor.role, 'exchange.import'),
    exampleMapping: EXAMPLE_MAPPING,
  };
}
