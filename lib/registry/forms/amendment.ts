import { AMENDMENT_REASONS } from '../vocabulary';
import { requiredChoiceEntry, requiredNumberEntry } from './entries';

/** What every edit of a stored entry carries: the version that was seen, and why it is changed. */
export const amendmentShape = {
  version: requiredNumberEntry({
    label: 'Version',
    unit: '',
    min: 1,
    max: 2_147_483_647,
    decimals: 0,
  }),
  reason: requiredChoiceEntry('Reason for the change', AMENDMENT_REASONS),
};
