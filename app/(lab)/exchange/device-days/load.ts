import 'server-only';
import { requireActor } from '@/app/require-actor';
import { isAllowed } from '@/lib/access/permissions';
import { DEVICE_SOURCE } from '@/lib/exchange/publish-device-days';
import { readImports } from '@/lib/records/imports/read';

/** The files of device days so far, and whether this person may import. */
export async function loadDeviceImports() {
  const actor = await requireActor('exchange.read');
  const imports = await readImports(actor);
  return {
    imports: imports.filter(({ source }) => source === DEVICE_SOURCE),
    mayImport: isAllowed(actor.role, 'exchange.import'),
  };
}
