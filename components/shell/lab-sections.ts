import type { NavigationItem } from './navigation';

/** One section of the Lab page: what it is for, in a sentence. */
export interface LabSection extends NavigationItem {
  readonly what: string;
}

/** The sections of the Lab page that exist. A page that is not built yet has no entry. */
export const LAB_SECTIONS: readonly LabSection[] = [
  {
    href: '/lab/schedule',
    label: 'Follow-up schedule',
    what: 'Which contacts a case has, in which windows, and what evidence each needs. Versions, and what each one moves.',
    permission: 'lab.read',
  },
];
