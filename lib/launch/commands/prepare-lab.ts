import { actorOfProgram } from '../../records/actor-of-program';
import { closeRecords } from '../../records/close';
import { countLabContents, createLab, setUpLab } from '../../records/labs/write';
import { ENDPOINT_PRESETS } from '../../registry/endpoint-presets';
import { DEFAULT_SLOTS } from '../../registry/follow-up-schedule';

/** Makes the lab of a new database, with the definitions and the schedule that every lab begins with. */
const labName = process.env.AFTERBEAT_LAB_NAME ?? 'Lab';
const { labs, definitions } = await countLabContents();
// A start that was interrupted between the two leaves a lab without definitions: the next one finishes it.
if (labs === 0) await createLab(labName);
if (definitions === 0) {
  await setUpLab(await actorOfProgram('first-run'), {
    labName,
    definitions: ENDPOINT_PRESETS,
    schedule: DEFAULT_SLOTS,
  });
  console.log(`Made the lab "${labName}".`);
}
await closeRecords();
