import { z } from 'zod';
import { VOID_REASONS } from '../complication-vocabulary';
import { amendmentShape } from './amendment';
import { requiredChoiceEntry } from './entries';
import { VOID_LABELS } from './field-labels';

/** Takes an entry out of every count and list; it stays readable with the reason. */
export const voidFormSchema = z.strictObject({
  version: amendmentShape.version,
  reason: requiredChoiceEntry(VOID_LABELS.reason, VOID_REASONS),
});
export type VoidFormInput = z.input<typeof voidFormSchema>;
export type VoidForm = z.output<typeof voidFormSchema>;

/** A void has no values to set against each other: whoever voids has to look at the changed entry first. */
export const CHANGED_MEANWHILE =
  'Somebody else changed this entry since it was opened. Reload the page and look at it again before it becomes void.';
