import type { Metadata } from 'next';
import { LinkButton } from '@/components/ui/button';
import { PageHead } from '@/components/ui/page-head';
import { MarginNote, Spread } from '@/components/ui/spread';
import { PastImports } from '../past-imports';
import { checkDeviceFile, publishDeviceFile } from './actions';
import { DeviceForm } from './device-form';
import { loadDeviceImports } from './load';

export const metadata: Metadata = { title: 'Exchange, daily burden' };

export default async function DeviceDays() {
  const { imports, mayImport } = await loadDeviceImports();
  return (
    <>
      <PageHead
        title="Bring in what implanted devices counted day by day"
        lede="A file is checked first and shown as it would be written. Then it is written patient by patient; a file that was stopped goes on when it is given again."
      />
      <Spread margin={<DeviceMargin />}>
        <p>
          <LinkButton href="/exchange">Rhythm readings instead</LinkButton>
        </p>
        <h2>Import a file</h2>
        {mayImport ? (
          <>
            <p>
              Columns, in any order: <code>patient</code> (the code of this lab), <code>day</code>{' '}
              (YYYY-MM-DD), <code>device</code> (implanted-monitor, pacemaker or defibrillator), one of{' '}
              <code>burden_seconds</code>, <code>burden_minutes</code> and <code>burden_percent</code>, and{' '}
              <code>longest_episode_seconds</code> if the device tells. Leave out the row of a day that was
              not recorded.
            </p>
            <DeviceForm check={checkDeviceFile} publish={publishDeviceFile} />
          </>
        ) : (
          <p>
            Your role reads what was imported. A coordinator, the lab director or an administrator imports.
          </p>
        )}
        <h2>Imported so far</h2>
        <PastImports imports={imports} />
      </Spread>
    </>
  );
}

function DeviceMargin() {
  return (
    <>
      <MarginNote title="What a day becomes">
        <p>
          Days without arrhythmia that follow each other are one continuous recording without; each day with
          it is a recurrence on that day, taken as AF, counted by the device and not seen by anybody.
        </p>
      </MarginNote>
      <MarginNote title="Without a longest episode">
        <p>
          The burden of the day stands for it, as an upper limit: a burden under the minimum of the endpoint
          definition is no event; one that reaches it counts, though its episodes may each have been shorter.
          Recurrence can so be found too early, never too late. Lists say “at most”.
        </p>
      </MarginNote>
      <MarginNote title="Before the first procedure">
        <p>Days before it are kept as baseline and never count as recurrence.</p>
      </MarginNote>
      <MarginNote title="The same days twice">
        <p>
          What is stored with the same values changes nothing. What is stored with other values is kept or
          replaced, as you say; the trail holds both.
        </p>
      </MarginNote>
      <MarginNote title="Larger files">
        <p>
          The command reads files up to 64 MB: <code>npm run import-device-days -- FILE</code>
        </p>
      </MarginNote>
    </>
  );
}
