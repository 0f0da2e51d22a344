import type { Term } from './vocabulary';

/** Block between the veins and the atrium at the end of the procedure, over all veins of the case. */
export const VEIN_BLOCKS = [
  { code: 'all', label: 'In every vein', definition: 'Shown for each vein that was to be isolated.' },
  { code: 'some', label: 'Not in every vein', definition: 'Shown for some veins, missing in at least one.' },
  { code: 'none', label: 'In no vein', definition: 'Tested, and missing in every vein.' },
  { code: 'not-tested', label: 'Not tested', definition: 'Nobody tested it.' },
] as const satisfies readonly [Term, ...Term[]];

/** A drug given to unmask dormant conduction. */
export const DRUG_CHALLENGES = [
  { code: 'none', label: 'None given', definition: 'No drug was given.' },
  { code: 'adenosine', label: 'Adenosine', definition: 'Adenosine, to unmask dormant conduction.' },
  {
    code: 'isoproterenol',
    label: 'Isoproterenol',
    definition: 'Isoproterenol, to unmask conduction or triggers.',
  },
  { code: 'both', label: 'Both', definition: 'Adenosine and isoproterenol.' },
] as const satisfies readonly [Term, ...Term[]];

export const CHALLENGE_RESULTS = [
  { code: 'no-conduction', label: 'No conduction', definition: 'No vein conducted again under the drug.' },
  {
    code: 'closed',
    label: 'Conduction, closed',
    definition: 'A vein conducted again and was ablated until it no longer did.',
  },
  { code: 'left', label: 'Conduction, left', definition: 'A vein conducted again and was left so.' },
] as const satisfies readonly [Term, ...Term[]];

/** The rhythm in which amplitudes were measured: amplitudes of one rhythm do not compare with those of another. */
export const MEASURED_RHYTHMS = [
  { code: 'sinus', label: 'Sinus rhythm', definition: 'Sinus rhythm.' },
  { code: 'paced', label: 'Paced', definition: 'Pacing from the atrium or the coronary sinus.' },
  { code: 'af', label: 'AF', definition: 'Atrial fibrillation.' },
  { code: 'other', label: 'Other rhythm', definition: 'Atrial tachycardia, flutter or any other rhythm.' },
] as const satisfies readonly [Term, ...Term[]];
