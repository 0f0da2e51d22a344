import type { Metadata } from 'next';
import { EditPatientForm } from '@/components/registry/patient-record-form';
import { LinkButton } from '@/components/ui/button';
import { CountLink } from '@/components/ui/count-link';
import { Notice } from '@/components/ui/notice';
import { PageHead } from '@/components/ui/page-head';
import { MarginNote, Spread } from '@/components/ui/spread';
import { changePatient } from '../actions';
import { loadPatient } from '../load';

export const metadata: Metadata = { title: 'Patient' };

export default async function Patient({ params }: { params: Promise<{ id: string }> }) {
  const { patient, context, mayChange, mayRecord } = await loadPatient((await params).id);
  return (
    <>
      <PageHead
        title={`Patient ${patient.code}`}
        lede="Recordings, visits, drugs and death belong to the patient; a case is one procedure."
      />
      <Spread
        margin={
          <MarginNote title="Procedures">
            {patient.procedures.length === 0 ? <p>None is recorded yet.</p> : null}
            <ul>
              {patient.procedures.map((procedure) => (
                <li key={procedure.id}>
                  <CountLink href={`/cases/${procedure.id}`}>
                    {procedure.ordinal === 1 ? 'First procedure' : `Procedure ${procedure.ordinal}`}
                  </CountLink>{' '}
                  on {procedure.performedOn}
                </li>
              ))}
            </ul>
            {mayRecord ? (
              <LinkButton href={`/patients/${patient.id}/procedures/new`}>Record a procedure</LinkButton>
            ) : null}
          </MarginNote>
        }
      >
        {mayChange ? (
          <EditPatientForm
            key={patient.version}
            action={changePatient.bind(null, patient.id)}
            values={patient.values}
            version={patient.version}
            context={context}
            hasHospitalNumber={patient.hasHospitalNumber}
            cancelHref="/cases"
          />
        ) : (
          <Notice kind="plain">
            <p>Your role reads cases and does not change patients.</p>
          </Notice>
        )}
      </Spread>
    </>
  );
}
