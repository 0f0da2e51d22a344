import { rebuildOlderRows } from '../../records/analysis-rows';
import { closeRecords } from '../../records/close';

/** Makes analysis rows anew that older rules made. Does nothing when all are up to date. */
const patients = await rebuildOlderRows();
if (patients > 0) console.log(`Rebuilt the analysis rows of ${patients} patients.`);
await closeRecords();
