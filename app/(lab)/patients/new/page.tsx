import type { Metadata } from 'next';
import { NewPatientForm } from '@/components/registry/patient-record-form';
import { PageHead } from '@/components/ui/page-head';
import { registerPatient } from '../actions';
import { loadNewPatient } from '../load';

export const metadata: Metadata = { title: 'Register a patient' };

export default async function NewPatient() {
  const { today } = await loadNewPatient();
  return (
    <>
      <PageHead
        title="Register a patient"
        lede="A birth year and a sex are enough. The lab makes the code."
      />
      <NewPatientForm action={registerPatient} today={today} />
    </>
  );
}
