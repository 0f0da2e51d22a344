import { z } from 'zod';
import {
  APPLICATION_COLUMNS,
  MOST_APPLICATIONS,
  type RfApplication,
  readApplication,
} from '../rf-applications';

const LONGEST_CELL = 64;

/** Rows of a file of single applications, each as texts in the order of its columns: read once more by whoever gets them. */
export const applicationEntries = z
  .array(z.array(z.string().max(LONGEST_CELL)).length(APPLICATION_COLUMNS.length))
  .max(MOST_APPLICATIONS, { error: `A case holds up to ${MOST_APPLICATIONS} applications.` })
  .nullable()
  .default(null)
  .transform((rows, context): RfApplication[] | null => {
    if (rows === null) return null;
    return rows.flatMap((cells, index) => {
      const reading = readApplication(cells);
      if (reading.kind === 'read') return [reading.application];
      for (const { column, message } of reading.problems) {
        context.addIssue({ code: 'custom', message: `Application ${index + 1}, ${column}: ${message}` });
      }
      return [];
    });
  });
