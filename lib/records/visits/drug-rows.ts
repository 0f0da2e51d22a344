import 'server-only';
import { randomUUID } from 'node:crypto';
import { type DrugEntries, doOverlap } from '../../registry/forms/visit-form';
import { ApplicationError } from '../../runtime/application-error';
import { dateFromDay, dateFromDayOrNull, dayFromDate, dayFromDateOrNull } from '../day-edge';
import type { OpenWrite } from '../record';

/**
 * Stores what changed in a patient's drugs: a row with drug and start of a stored episode closes or mends that one, any
 * other row is a new episode. Throws invalid when it would overlap a stored episode of the same drug.
 */
export async function storeDrugRows(
  open: OpenWrite,
  patientId: string,
  rows: readonly DrugEntries[],
): Promise<void> {
  const { tx, labId, note } = open;
  for (const [index, row] of rows.entries()) {
    const stored = await tx.drugEpisode.findMany({ where: { labId, patientId, drug: row.drug } });
    const same = stored.find((episode) => dayFromDate(episode.startedOn) === row.startedOn);
    const others = stored.filter((episode) => episode !== same);
    const clash = others.find((episode) =>
      doOverlap(row, {
        startedOn: dayFromDate(episode.startedOn),
        stoppedOn: dayFromDateOrNull(episode.stoppedOn),
      }),
    );
    if (clash) {
      const message = `Started on: this overlaps an episode of the same drug that began on ${dayFromDate(clash.startedOn)}. Enter that start with its last day first.`;
      throw new ApplicationError('invalid', message, [{ field: `drugs.${index}.startedOn`, message }]);
    }
    const stoppedOn = dateFromDayOrNull(row.stoppedOn);
    if (same) {
      const key = { labId_id: { labId, id: same.id } };
      const after = await tx.drugEpisode.update({
        where: key,
        data: { stoppedOn, version: { increment: 1 } },
      });
      note({ entity: 'drug_episodes', entityId: same.id, patientId, before: same, after });
      continue;
    }
    const id = randomUUID();
    const after = await tx.drugEpisode.create({
      data: { labId, id, patientId, drug: row.drug, startedOn: dateFromDay(row.startedOn), stoppedOn },
    });
    note({ entity: 'drug_episodes', entityId: id, patientId, before: null, after });
  }
}
