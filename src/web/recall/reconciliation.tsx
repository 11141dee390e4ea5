import { inWords, writtenCount, writtenDecimal } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { Progress, Whole } from './recall-page.js';
import { FillBar } from './fill-bar.js';
import { spansText, writtenSeconds } from './words.js';

const part = (quantity: string) => ({ spans: null, quantity });

/** What was sent against what is accounted for; what is affected against where it is. Both fill, and both must add up. */
export function Reconciliation({ scope, progress }: { scope: Whole; progress: Progress }) {
  const now = scope.reconciliationNow;
  return (
    <>
      <Section title="Of what was sent" note="sent = came back + destroyed + corrected + sold on + outstanding">
        {progress.goods.map((goods) => (
          <div className="goods" key={goods.unit}>
            <FillBar
              label={`All consignees, ${goods.unit}`}
              unit={goods.unit}
              account={{
                sent: part(goods.sent),
                cameBack: part(goods.cameBack),
                destroyed: part(goods.destroyed),
                corrected: part(goods.corrected),
                soldOn: part(goods.soldOn),
                outstanding: part(goods.outstanding),
              }}
            />
            <p>
              {goods.recovered} % recovered, {goods.accounted} % accounted for.
              {goods.contradicted === '0' ? null : (
                <strong className="urgent"> {goods.contradicted} contradicted: stated as gone, and came back.</strong>
              )}
            </p>
          </div>
        ))}
      </Section>
      <Section title="Of what is affected" note={`where it is now, as known at entry ${now.seq}`}>
        {now.addsUp ? (
          <p>It adds up: every affected piece and quantity is somewhere, exactly once.</p>
        ) : (
          <Caution>
            It does not add up:
            <ul>
              {now.differences.map(({ lot, why }) => (
                <li key={lot}>
                  <Refer kind="lot" code={lot} />: {why}
                </li>
              ))}
            </ul>
          </Caution>
        )}
        <LedgerTable
          caption="Affected, by what became of it"
          rows={now.accounts}
          rowKey={({ unit }) => unit}
          columns={[
            { head: 'Affected', num: true, cell: ({ affected, unit }) => writtenDecimal(affected, unit) },
            {
              head: 'Where it is',
              cell: ({ byFate }) =>
                Object.entries(byFate)
                  .map(([fate, quantity]) => `${writtenDecimal(quantity)} ${inWords(fate)}`)
                  .join(', '),
            },
            {
              head: 'Difference',
              num: true,
              cell: ({ difference }) => (difference === '0' ? '0' : <strong className="urgent">{difference}</strong>),
            },
          ]}
        />
        <details>
          <summary className="tap">Place by place ({writtenCount(now.places.length)})</summary>
          <LedgerTable
            caption="Places of what is affected"
            rows={now.places}
            rowKey={(place) => JSON.stringify(place)}
            columns={[
              { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
              { head: 'What became of it', cell: ({ fate }) => inWords(fate) },
              { head: 'With', cell: ({ holder }) => holder },
              { head: 'By', cell: ({ document }) => document },
              { head: 'Pieces', cell: ({ spans }) => spansText(spans) },
              { head: 'Quantity', num: true, cell: ({ quantity, unit }) => writtenDecimal(quantity, unit) },
            ]}
          />
        </details>
      </Section>
      <Section title="Times" note="measured by the ledger; none can be typed">
        <Times times={progress.times} />
      </Section>
    </>
  );
}

function Times({ times }: { times: Progress['times'] }) {
  const rows = [
    { what: 'Scope frozen', time: times.scope },
    { what: 'First notice', time: times.firstNotice },
    { what: 'Everything accounted for', time: times.reconciliation },
    { what: 'Closed', time: times.closing },
  ];
  return (
    <LedgerTable
      caption="Times since the recall was opened"
      rows={rows}
      rowKey={({ what }) => what}
      columns={[
        { head: 'Step', cell: ({ what }) => what },
        { head: 'After', num: true, cell: ({ time }) => (time === null ? 'not yet' : writtenSeconds(time.seconds)) },
      ]}
    />
  );
}
