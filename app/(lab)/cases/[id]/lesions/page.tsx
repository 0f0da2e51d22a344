import type { Metadata } from 'next';
import { LesionAccountNotes } from '@/components/lesions/lesion-account-notes';
import { LESION_FILTERS, LesionTable } from '@/components/lesions/lesion-table';
import { Schematic } from '@/components/lesions/schematic';
import { layOut } from '@/components/lesions/schematic-layout';
import { SchematicLegend } from '@/components/lesions/schematic-legend';
import { CaseFrame } from '@/components/registry/case-frame';
import { ScrollBox } from '@/components/tables/scroll-box';
import { LinkButton } from '@/components/ui/button';
import { MarginNote, Spread } from '@/components/ui/spread';
import { MEASURED_RHYTHMS } from '@/lib/registry/acute-vocabulary';
import { accountOf } from '@/lib/registry/lesion-account';
import { sortVeins } from '@/lib/registry/lesion-anatomy';
import { VEIN_RINGS } from '@/lib/registry/lesion-vocabulary';
import { labelOf } from '@/lib/registry/vocabulary';
import { Standing } from '../standing';
import { loadLesions } from './load';

export const metadata: Metadata = { title: 'Case, lesions' };

interface PageProps {
  readonly params: Promise<{ id: string }>;
  readonly searchParams: Promise<Record<string, string | string[] | undefined>>;
}

export default async function CaseLesions({ params, searchParams }: PageProps) {
  const { head, may, standing, lesions } = await loadLesions((await params).id);
  const { show } = await searchParams;
  const { stored, context, applications } = lesions;
  const account = accountOf(stored, context, applications);
  const path = `/cases/${head.id}/lesions`;
  return (
    <CaseFrame
      head={head}
      part="lesions"
      actions={
        may.lesions ? (
          <LinkButton href={`${path}/edit`} weight={stored.elements.length === 0 ? 'primary' : 'plain'}>
            {stored.elements.length === 0 ? 'Record the lesion set' : 'Change'}
          </LinkButton>
        ) : null
      }
    >
      <Spread
        margin={
          <>
            <MarginNote title="State">
              <Standing head={head} may={may} standing={standing} />
            </MarginNote>
            <LesionAccountNotes
              account={account}
              settleHref={may.lesions ? `${path}/edit#field=settledStrategy` : undefined}
            />
          </>
        }
      >
        <h2 id="lesion-set">Lesion set</h2>
        <p>
          {veinWords(stored.veins)} Amplitudes measured in:{' '}
          {labelOf(MEASURED_RHYTHMS, stored.measuredInRhythm)}.
        </p>
        <ScrollBox labelledBy="lesion-set">
          <Schematic layout={layOut(account.shown)} description={account.description} />
        </ScrollBox>
        <SchematicLegend shown={account.shown} />
      </Spread>
      <h2>The same as a table</h2>
      <LesionTable
        shown={account.shown}
        energy={context.energy}
        isRepeat={context.ordinal > 1}
        filter={LESION_FILTERS.find(({ code }) => code === show)?.code ?? 'all'}
        path={path}
      />
    </CaseFrame>
  );
}

function veinWords(veins: readonly string[]): string {
  if (veins.length === 0) return 'The veins are not recorded: the usual four are assumed.';
  return `Veins: ${sortVeins(veins)
    .map((vein) => labelOf(VEIN_RINGS, vein).toLowerCase())
    .join(', ')}.`;
}
