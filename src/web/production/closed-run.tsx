import { Link } from 'wouter';
import { writtenCount, writtenDate } from '../../../shared/written.js';
import { countPieces, parseSpans } from '../../../shared/spans.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { type Fact, Facts, Notice, Section } from '../design/page.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Refer } from '../design/refer.js';
import { Stamps } from '../design/stamp.js';
import { server } from '../wire/client.js';
import { LotTests } from './lot-tests.js';
import { amount, type Run } from './run.js';

/** What came of a run: the lot, its yield against theory, where all of it is now, and what was found of it. */
export function ClosedRun({ run }: { run: Run }) {
  const { result, yields } = run;
  if (yields === null) {
    return (
      <Section title="What came out">
        <Notice>
          <p>Nothing: it was closed without a lot{run.replacements.length > 0 ? '. The parts it replaced are below' : ''}.</p>
          {result?.note ? <p>{result.note}</p> : null}
        </Notice>
      </Section>
    );
  }
  return (
    <>
      <Section title="What came out" note={`closed by ${run.closedBy}`}>
        {result === null || figuresOf(run).length === 0 ? null : <Facts facts={figuresOf(run)} />}
        <Made run={run} />
        {result?.rejected ? (
          <p>
            Rejected: pieces <code>{result.rejected}</code>, {result.rejectReason}.
          </p>
        ) : null}
        {result && result.unsure.length > 0 ? (
          <Notice>
            <p>Nobody said which piece holds which lot of {result.unsure.join(', ')}: each of them may be in any piece.</p>
          </Notice>
        ) : null}
        {!result || result.deviations.length === 0 ? null : (
          <p className="urgent">
            {result.deviations.map(({ detail }) => detail).join('; ')}. <span className="reason">Why: {result.deviationReason}</span>
          </p>
        )}
        {result?.note ? <p>{result.note}</p> : null}
        <Balance run={run} />
      </Section>
      <LotTests lot={yields.lot} />
    </>
  );
}

function Made({ run }: { run: Run }) {
  const lot = run.yields?.lot ?? '';
  const query = server.useQuery('get', '/api/lots/{lot}', { params: { path: { lot } } });
  return (
    <Answered query={query} what={`lot ${lot}`}>
      {(made) => (
        <>
          <p className="made">
            <Refer kind="lot" code={lot} /> <Stamps stamps={made.stamps} unit={made.unit} />{' '}
            <span className="quiet">
              {amount(made.quantity, made.unit)} of {made.itemName}
              {made.expiresOn === null ? '' : `, expires ${writtenDate(made.expiresOn)}`}
            </span>{' '}
            <Link href={`/trace?lot=${encodeURIComponent(lot)}`}>Trace it</Link>
          </p>
          <Whereabouts reconciliation={made.reconciliation} unit={made.unit} />
          <Serials run={run} />
        </>
      )}
    </Answered>
  );
}

/** All of what came out, and where it is: it adds up, or the record is at fault. */
function Whereabouts({ reconciliation, unit }: { reconciliation: { [fate: string]: unknown }; unit: string }) {
  const words: readonly (readonly [key: string, label: string])[] = [
    ['quantity', 'Came out'],
    ['onHand', 'On hand'],
    ['consumed', 'Used'],
    ['dispatched', 'Dispatched'],
    ['scrapped', 'Scrapped'],
    ['retained', 'Retain samples'],
    ['destroyedInTest', 'Used up in tests'],
    ['returnedToSupplier', 'Sent back'],
    ['countDifference', 'Count difference'],
    ['gap', 'Does not add up'],
  ];
  const facts = words.flatMap(([key, label]): Fact[] => {
    const value = reconciliation[key];
    return typeof value === 'string' && (value !== '0' || key === 'quantity' || key === 'onHand')
      ? [{ label, value: amount(value, unit), warn: key === 'gap' }]
      : [];
  });
  return (
    <div className="whereabouts">
      <h3>Where all of it is</h3>
      <Facts facts={facts} />
    </div>
  );
}

function Serials({ run }: { run: Run }) {
  const serials = run.yields?.serials ?? [];
  if (serials.length === 0) return null;
  return (
    <details className="more">
      <summary>
        Serials {serials[0]} to {serials.at(-1)}, {writtenCount(serials.length)}: build record of each
      </summary>
      <ul className="serials">
        {serials.map((serial) => (
          <li key={serial}>
            <Link className="code tap" href={`/production/units/${encodeURIComponent(run.item)}/${encodeURIComponent(serial)}`}>
              {serial}
            </Link>
          </li>
        ))}
      </ul>
    </details>
  );
}

function figuresOf(run: Run): Fact[] {
  const { result, unit } = run;
  if (result === null) return [];
  const { theory, yieldPercent, yieldLimits, mass, netWeights, rejected } = result;
  return [
    ...(theory === null ? [] : [{ label: 'Theory', value: amount(theory, unit) }]),
    ...(yieldPercent === null
      ? []
      : [
          {
            label: yieldLimits === null ? 'Yield' : `Yield, ${yieldLimits} %`,
            value: `${yieldPercent} %`,
            warn: run.investigations.some(({ what }) => what === 'yield'),
          },
        ]),
    ...(rejected === null ? [] : [{ label: 'Rejected', value: writtenCount(countPieces(parseSpans(rejected))) }]),
    ...(mass === null
      ? []
      : [{ label: 'Loss of bulk', value: `${mass.lossPercent} %`, warn: run.investigations.some(({ what }) => what === 'mass') }]),
    ...(netWeights === null
      ? []
      : [{ label: `Mean net weight of ${writtenCount(netWeights.count)}`, value: amount(netWeights.mean, 'kg') }]),
  ];
}

/** Charged against what the pieces hold, component by component, and the mass. */
function Balance({ run }: { run: Run }) {
  const { result } = run;
  if (result === null) return null;
  const names = new Map(run.components.map(({ item, name, unit }) => [item, { name, unit }]));
  const { mass, netWeights } = result;
  return (
    <>
      {result.components.length === 0 ? null : (
        <LedgerTable
          caption="Components charged against what the pieces need"
          rows={result.components}
          rowKey={({ item }) => item}
          columns={[
            {
              head: 'Component',
              cell: ({ item }) => (
                <>
                  {names.get(item)?.name} <code className="quiet">{item}</code>
                </>
              ),
            },
            { head: 'Charged', num: true, cell: ({ item, charged }) => amount(charged, names.get(item)?.unit ?? '') },
            { head: 'Needed', num: true, cell: ({ item, needed }) => amount(needed, names.get(item)?.unit ?? '') },
            {
              head: 'More than needed',
              num: true,
              cell: ({ item, over }) => (over === '0' ? '–' : amount(over, names.get(item)?.unit ?? '')),
            },
          ]}
        />
      )}
      {mass === null ? null : (
        <p className="quiet">
          Bulk charged {amount(mass.charged, 'kg')}; in the cans {amount(mass.filled, 'kg')} by their{' '}
          {mass.basis === 'mean' ? 'mean net weight' : 'nominal content'}, of it {amount(mass.rejected, 'kg')} in rejected ones; lost{' '}
          {amount(mass.loss, 'kg')}.
        </p>
      )}
      {netWeights === null ? null : (
        <p className="quiet">
          Net weights: mean {amount(netWeights.mean, 'kg')}, standard deviation {amount(netWeights.sd, 'kg')}, from{' '}
          {amount(netWeights.min, 'kg')} to {amount(netWeights.max, 'kg')}.
        </p>
      )}
      {run.corrections.map(({ seq, reason, at, by, voided, linked }) => (
        <p key={seq}>
          Put right on {localWritten(at)} by <code>{by}</code>, entry <Refer kind="entry" code={`${seq}`} />: {reason}{' '}
          <span className="quiet">
            ({writtenCount(voided)} links voided, {writtenCount(linked)} recorded)
          </span>
        </p>
      ))}
    </>
  );
}
