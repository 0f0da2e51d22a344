'use client';

import { useWatch } from 'react-hook-form';
import type { VisitFormInput } from '@/lib/registry/forms/visit-form';
import { evidenceWords } from '@/lib/registry/slot-evidence';
import type { VisitSlot } from '@/lib/registry/visit-slots';

/** What the chosen slot needs to be done: under the list of slots, so that it is known before the recordings are entered. */
export function SlotNeed({ slots }: { slots: readonly VisitSlot[] }) {
  const chosen = useWatch<VisitFormInput, 'slot'>({ name: 'slot' });
  const evidence = slots.find(({ code }) => code === chosen)?.evidence ?? null;
  if (evidence === null) return 'The schedule asks for no evidence here.';
  return `Needs: ${evidenceWords({ evidence })}.`;
}
