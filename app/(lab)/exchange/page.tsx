import type { Metadata } from 'next';
import { LinkButton } from '@/components/ui/button';
import { PageHead } from '@/components/ui/page-head';
import { MarginNote, Spread } from '@/components/ui/spread';
import { checkRhythmFile, publishRhythmFile } from './actions';
import { ImportForm } from './import-form';
import { loadExchange } from './load';
import { PastImports } from './past-imports';

export const metadata: Metadata = { title: 'Exchange' };

export default async function Exchange() {
  const { imports, mayImport, exampleMapping } = await loadExchange();
  return (
    <>
      <PageHead
        title="Bring rhythm readings in from a spreadsheet"
        lede="A file is checked first and shown as it would be written. Then all of it is written, or nothing."
      />
      <Spread margin={<ExchangeMargin />}>
        <h2>Import a file</h2>
        {mayImport ? (
          <ImportForm exampleMapping={exampleMapping} check={checkRhythmFile} publish={publishRhythmFile} />
        ) : (
          <p>
            Your role reads what was imported. A coordinator, the lab director or an administrator imports.
          </p>
        )}
        <h2>Daily burden of implanted devices</h2>
        <p>
          What a monitor, pacemaker or defibrillator counted day by day has a form of its own.{' '}
          <LinkButton href="/exchange/device-days">Import daily burden</LinkButton>
        </p>
        <h2>Imported so far</h2>
        <PastImports imports={imports} />
      </Spread>
    </>
  );
}

function ExchangeMargin() {
  return (
    <>
      <MarginNote title="What becomes of a file">
        <p>
          Each patient of the file becomes a patient of the lab with a new code, one procedure on day zero,
          and one recording per reading. The group becomes a cohort tag, by which Outcomes can part the cases.
        </p>
      </MarginNote>
      <MarginNote title="What is never kept">
        <p>
          The file itself, and its patient numbers: of a number only a keyed hash is stored, so that the same
          patient is recognised when the file comes again. No list shows a number, a name or a cell that might
          hold one.
        </p>
      </MarginNote>
      <MarginNote title="The same file twice">
        <p>It is recognised by its bytes and its source, and changes nothing.</p>
      </MarginNote>
      <MarginNote title="Larger files">
        <p>
          The command reads files up to 64 MB and lists every refused row: <code>npm run import -- FILE</code>
        </p>
      </MarginNote>
    </>
  );
}
