import type { ReactNode } from 'react';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { MarginNote } from '@/components/ui/spread';
import { StateMark } from '@/components/ui/state-mark';
import type { SafetyClock } from '@/lib/registry/safety-clock';
import { DERIVED_STRATEGIES, labelOf, NOT_DERIVABLE, SEXES, STRATEGIES } from '@/lib/registry/vocabulary';
import { ordinalWords } from './case-frame';
import { SafetyChecks } from './safety-checks';

interface CaseMarginProps {
  readonly head: {
    readonly id: string;
    readonly patientId: string;
    readonly patientCode: string;
    readonly birthYear: number;
    readonly sex: string;
    readonly diedOn: string | null;
    readonly consentWithdrawnOn: string | null;
    readonly transferredOn: string | null;
    readonly derivedStrategy: string | null;
    readonly safety: SafetyClock;
    readonly values: { readonly intendedStrategy?: unknown };
    readonly procedures: readonly {
      readonly id: string;
      readonly ordinal: number;
      readonly performedOn: string;
    }[];
  };
  readonly may: { readonly patient: boolean; readonly procedure: boolean; readonly visit: boolean };
  /** How far the case has come. */
  readonly standing: ReactNode;
}

/** Whose case it is, the patient's other procedures, how far harm was asked for, and how the label and the lesions agree. */
export function CaseMargin({ head, may, standing }: CaseMarginProps) {
  return (
    <>
      <MarginNote title="State">{standing}</MarginNote>
      <MarginNote title="Patient">
        <p>
          <CountLink href={`/patients/${head.patientId}`}>{head.patientCode}</CountLink>, born{' '}
          {head.birthYear}, {labelOf(SEXES, head.sex).toLowerCase()}.
        </p>
        {head.diedOn ? <p>Died on {head.diedOn}.</p> : null}
        {head.consentWithdrawnOn ? <p>Consent withdrawn on {head.consentWithdrawnOn}.</p> : null}
        {head.transferredOn ? <p>Transferred on {head.transferredOn}.</p> : null}
      </MarginNote>
      <MarginNote title="Procedures of this patient">
        <ul>
          {head.procedures.map((procedure) => (
            <li key={procedure.id}>
              {procedure.id === head.id ? (
                <b>{ordinalWords(procedure.ordinal)}</b>
              ) : (
                <CountLink href={`/cases/${procedure.id}`}>{ordinalWords(procedure.ordinal)}</CountLink>
              )}{' '}
              on {procedure.performedOn}
            </li>
          ))}
        </ul>
        {may.procedure ? (
          <LinkButton href={`/patients/${head.patientId}/procedures/new`}>Record a procedure</LinkButton>
        ) : null}
      </MarginNote>
      <MarginNote title="Safety checks">
        <SafetyChecks caseId={head.id} safety={head.safety} mayEnter={may.visit} />
      </MarginNote>
      <MarginNote title="Strategy">
        <p>
          As labelled:{' '}
          {labelOf(STRATEGIES, head.values.intendedStrategy ? String(head.values.intendedStrategy) : null)}.
        </p>
        <Derivation derived={head.derivedStrategy} labelled={String(head.values.intendedStrategy ?? '')} />
      </MarginNote>
    </>
  );
}

function Derivation({ derived, labelled }: { derived: string | null; labelled: string }) {
  if (derived === null || derived === NOT_DERIVABLE) {
    return <p>From the lesions: not derivable, because too few segments are recorded.</p>;
  }
  const words = labelOf(DERIVED_STRATEGIES, derived);
  return (
    <p>
      From the lesions: {words}.{' '}
      {labelled !== '' && labelled !== derived ? (
        <StateMark kind="unfinished">differs from the label</StateMark>
      ) : null}
    </p>
  );
}
