import { BigNumber } from '@/components/ui/big-number';
import { CountLink } from '@/components/ui/count-link';
import { MarginNote } from '@/components/ui/spread';
import type { OutcomesView } from '@/lib/analysis/outcomes/outcomes-view';
import styles from './outcomes-margin.module.css';

/** What stands beside the figure: the number, who is behind it, and what not to conclude. */
export function OutcomesMargin({ view }: { view: OutcomesView }) {
  const { twelveMonths, deathBefore, event, freedom, flow, apart, comparison, cautions } = view;
  return (
    <>
      <MarginNote title={`${freedom} at 12 months, all cases`}>
        <BigNumber
          value={twelveMonths.value}
          {...(twelveMonths.interval === undefined
            ? {}
            : { interval: `${twelveMonths.interval}, 95\u2009% limits` })}
          href={twelveMonths.href}
          opens={twelveMonths.opens}
        >
          {twelveMonths.note}
        </BigNumber>
        {deathBefore ? (
          <p>
            Died by then without a {event}: {deathBefore.value}
            {deathBefore.interval === undefined ? '' : ` (${deathBefore.interval})`}.
          </p>
        ) : null}
      </MarginNote>
      <MarginNote title="Who is behind it">
        <table className={styles.flow}>
          <caption className="visually-hidden">
            From registered procedures to those analysed, and how their time ended
          </caption>
          <tbody>
            {flow.map(({ label, count, depth, minus }) => (
              <tr key={count.href} className={depth === 1 ? styles.part : undefined}>
                <th scope="row">
                  {minus ? <span className={styles.minus}>less </span> : null}
                  {label}
                </th>
                <td>
                  <CountLink href={count.href} opens={label}>
                    {count.text}
                  </CountLink>
                </td>
              </tr>
            ))}
          </tbody>
        </table>
        {apart.map(({ label, count }) => (
          <p key={label}>
            In no curve: <CountLink href={count.href}>{count.text}</CountLink> {label}.
          </p>
        ))}
      </MarginNote>
      <MarginNote title="Before you conclude">
        {comparison ? <p>{comparison}</p> : null}
        {cautions.map((caution) => (
          <p key={caution}>{caution}</p>
        ))}
      </MarginNote>
    </>
  );
}
