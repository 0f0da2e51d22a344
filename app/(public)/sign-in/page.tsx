import type { Metadata } from 'next';
import { redirect } from 'next/navigation';
import { LonePage } from '@/components/shell/lone-page';
import { PageHead } from '@/components/ui/page-head';
import { currentActor } from '@/lib/access/current-actor';
import { environment } from '@/lib/runtime/environment';
import { SignInForm } from './sign-in-form';

export const metadata: Metadata = { title: 'Sign in' };

export default async function SignInPage() {
  if (await currentActor()) redirect('/today');
  return (
    <LonePage>
      <PageHead
        title="Sign in to the lab"
        lede="One place where each ablation of atrial fibrillation is recorded while it is fresh, followed without gaps, and counted so that the numbers hold up."
      />
      <SignInForm demo={environment().AFTERBEAT_DEMO === '1'} />
    </LonePage>
  );
}
