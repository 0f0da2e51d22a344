import type { ReactNode } from 'react';
import { PageHead } from '@/components/ui/page-head';
import { Tabs } from '@/components/ui/tabs';
import { caseCode } from '@/lib/registry/cohort';
import { AF_TYPES, labelOf } from '@/lib/registry/vocabulary';

type CasePart = 'baseline' | 'procedure' | 'lesions' | 'complications' | 'follow-up' | 'history';

interface CaseFrameProps {
  readonly head: {
    readonly id: string;
    readonly patientCode: string;
    readonly ordinal: number;
    readonly performedOn: string;
    readonly operatorCode: string | null;
    readonly values: {
      readonly ageYears?: unknown;
      readonly baseline?: { readonly afType?: unknown; readonly laDiameterMm?: unknown };
    };
  };
  readonly part: CasePart;
  readonly actions?: ReactNode;
  readonly children: ReactNode;
}

const PARTS: readonly { part: CasePart; label: string; path: string }[] = [
  { part: 'baseline', label: 'Baseline', path: '' },
  { part: 'procedure', label: 'Procedure', path: '/procedure' },
  { part: 'lesions', label: 'Lesions', path: '/lesions' },
  { part: 'complications', label: 'Complications', path: '/complications' },
  { part: 'follow-up', label: 'Follow-up', path: '/follow-up' },
  { part: 'history', label: 'History', path: '/history' },
];

/** The head of a case and the way between its parts. */
export function CaseFrame({ head, part, actions, children }: CaseFrameProps) {
  return (
    <>
      <PageHead
        title={`Case ${caseCode(head.patientCode, head.ordinal)}, ${ordinalWords(head.ordinal)}`}
        lede={ledeOf(head)}
      />
      <Tabs
        label="Parts of the case"
        tabs={PARTS.map(({ part: one, label, path }) => ({
          label,
          href: `/cases/${head.id}${path}`,
          current: one === part,
        }))}
        actions={actions}
      />
      {children}
    </>
  );
}

/** 'first procedure', 'second procedure', 'procedure 11'. */
export function ordinalWords(ordinal: number): string {
  const words = ['first', 'second', 'third', 'fourth', 'fifth'];
  const word = words[ordinal - 1];
  return word ? `${word} procedure` : `procedure ${ordinal}`;
}

function ledeOf({ performedOn, operatorCode, values }: CaseFrameProps['head']): string {
  const facts = [
    values.baseline?.afType
      ? `${labelOf(AF_TYPES, String(values.baseline.afType))} AF`
      : 'AF type not recorded',
    values.ageYears ? `${values.ageYears} years` : 'age not recorded',
    ...(values.baseline?.laDiameterMm ? [`left atrium ${values.baseline.laDiameterMm} mm`] : []),
  ];
  const by = operatorCode === null ? '' : ` by ${operatorCode}`;
  return `${facts.join(', ')}. Ablated on ${performedOn}${by}.`;
}
