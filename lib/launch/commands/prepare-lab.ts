import { actorOfProgram } from '../../records/actor-of-program';
import { closeRecords } from '../../records/close';
import { countLabsAndPatients, createLab, setUpLab } from '../../records/labs/write';
import { ENDPOINT_PRESETS } from '../../registry/endpoint-presets';
import { DEFAULT_SLOTS } from '../../registry/follow-up-schedule';

/** Makes the lab of a new database, with the definitions and the schedule that every lab begins with. */
const { labs } = await countLabsAndPatients();
if (labs === 0) {
  const labName = process.env.AFTERBEAT_LAB_NAME ?? 'Lab';
  const labId = await createLab(labName);
  await setUpLab(await actorOfProgram('first-run', labId), {
    labName,
    definitions: ENDPOINT_PRESETS,
    schedule: DEFAULT_SLOTS,
  });
  console.log(`Made the lab "${labName}".`);
}
await closeRecords();
