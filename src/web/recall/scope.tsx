import { Link } from 'wouter';
import { writtenCount, writtenDate, writtenDecimal } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, TextAreaField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Notice, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import type { View } from '../wire/client.js';
import { originsOfText, textOfOrigin, tracesOf } from './origin.js';
import type { Whole } from './recall-page.js';
import { spansText } from './words.js';

/** What is affected, in both scopes side by side, frozen; and the evidence for everything the narrow one leaves out. */
export function Scope({ scope }: { scope: Whole }) {
  const latest = scope.scopes.at(-1);
  return (
    <>
      <Section title="Why">
        <p>{scope.reason}</p>
        {scope.hazard === null ? null : <p>Hazard: {scope.hazard}</p>}
        {scope.instruction === null ? null : <p>Holders are asked: {scope.instruction}</p>}
        {scope.reports.length === 0 ? null : (
          <p>
            From{' '}
            {scope.reports.map((report) => (
              <Refer key={report} kind="report" code={report} />
            ))}
          </p>
        )}
      </Section>
      <Section
        title="Two scopes"
        note={latest ? `version ${latest.version}, frozen ${localWritten(latest.frozenAt)} by ${latest.frozenBy}` : undefined}
        actions={
          latest === undefined
            ? null
            : tracesOf(
                latest,
                scope.narrowings.map(({ lot }) => lot),
              ).map(({ of, href }) => (
                <Link key={href} className="button" href={href}>
                  {of === null ? 'See the trace' : `See the trace of ${of}`}
                </Link>
              ))
        }
      >
        <LedgerTable
          caption="Narrow and conservative scope"
          rows={[
            { name: 'narrow: recorded pieces', totals: scope.narrow, chosen: latest?.chosen === 'narrow' },
            { name: 'conservative: whole lots', totals: scope.conservative, chosen: latest?.chosen === 'conservative' },
          ]}
          rowKey={({ name }) => name}
          rowClass={({ chosen }) => (chosen ? 'chosen' : undefined)}
          columns={[
            {
              head: 'Scope',
              cell: ({ name, chosen }) => (
                <>
                  {name} {chosen ? <strong>acted on</strong> : null}
                </>
              ),
            },
            { head: 'Lots', num: true, cell: ({ totals }) => writtenCount(totals.lots) },
            { head: 'Pieces', num: true, cell: ({ totals }) => writtenCount(totals.pieces) },
            {
              head: 'Not numbered',
              num: true,
              cell: ({ totals }) => totals.bulk.map(({ quantity, unit }) => writtenDecimal(quantity, unit)).join(', '),
            },
            { head: 'Consignees', num: true, cell: ({ totals }) => writtenCount(totals.consignees) },
          ]}
        />
        {scope.narrowings.length === 0 ? null : (
          <details>
            <summary className="tap">What the narrow scope leaves out, and on what evidence</summary>
            <ul>
              {scope.narrowings.map(({ lot, spans, evidence }) => (
                <li key={lot}>
                  <Refer kind="lot" code={lot} /> {spans === null ? 'left out altogether' : `only ${spansText(spans)}`}:{' '}
                  {evidence.join('; ')}
                </li>
              ))}
            </ul>
          </details>
        )}
      </Section>
      <Amounts amounts={scope.amounts} />
      <Lots lots={scope.lots} />
      <NewScope scope={scope} />
    </>
  );
}

const between = (first: string, word: string, last: string | null): string =>
  `${writtenDate(first)} ${word} ${last === null ? '' : writtenDate(last)}`;

function Amounts({ amounts }: { amounts: Whole['amounts'] }) {
  return (
    <Section title="Amounts" note="of goods that leave the plant">
      <LedgerTable
        caption="The amounts asked for in any recall"
        rows={amounts}
        rowKey={({ unit }) => unit}
        columns={[
          { head: 'In all', num: true, cell: ({ total, unit }) => writtenDecimal(total, unit) },
          { head: 'Made', cell: ({ madeFrom, madeUntil }) => (madeFrom === null ? '' : between(madeFrom, 'to', madeUntil)) },
          { head: 'Sent out', num: true, cell: ({ distributed }) => writtenDecimal(distributed) },
          {
            head: 'Between',
            cell: (one) => (one.distributedFrom === null ? '' : between(one.distributedFrom, 'and', one.distributedUntil)),
          },
          { head: 'Here', num: true, cell: ({ onHand }) => writtenDecimal(onHand) },
          { head: 'Of it stopped', num: true, cell: ({ onHandQuarantined }) => onHandQuarantined },
          { head: 'With customers', num: true, cell: ({ inMarket }) => <strong className="urgent">{writtenDecimal(inMarket)}</strong> },
        ]}
      />
    </Section>
  );
}

function Lots({ lots }: { lots: readonly View<'RecallLotView'>[] }) {
  return (
    <Section title="Affected lots" note={`${writtenCount(lots.length)}, frozen`}>
      <LedgerTable
        caption="Affected lots"
        rows={lots}
        rowKey={({ lot }) => lot}
        columns={[
          { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
          {
            head: 'Item',
            cell: ({ item, itemName }) => (
              <>
                {itemName} <span className="quiet">{item}</span>
              </>
            ),
          },
          { head: 'Affected', num: true, cell: ({ affected, unit }) => writtenDecimal(affected, unit) },
          { head: 'Pieces', cell: ({ spans }) => spansText(spans) },
          { head: 'Status then', cell: ({ status }) => status },
        ]}
      />
    </Section>
  );
}

/** A scope is never changed: it is traced and frozen anew, with a reason, and every version stays. */
function NewScope({ scope }: { scope: Whole }) {
  const may = useMay('quality', 'recall-lead');
  const latest = scope.scopes.at(-1);
  return (
    <Section title="Versions of the scope" note={`${scope.scopes.length}`}>
      <ol>
        {scope.scopes.map((version) => (
          <li key={version.version}>
            {version.chosen}, known at entry {version.knownSeq}, frozen {localWritten(version.frozenAt)} by {version.frozenBy}:{' '}
            {version.reason}{' '}
            <a href={`/api/recalls/${encodeURIComponent(scope.recall)}/report.pdf?version=${version.version}`}>its report (PDF)</a>
          </li>
        ))}
      </ol>
      {may && scope.status === 'open' ? (
        <details>
          <summary className="tap">Widen or narrow the scope …</summary>
          <CommandForm
            path="/api/recalls/{recall}/scopes"
            address={{ recall: scope.recall }}
            submit="Freeze a new version"
            body={(values) => ({
              origin: originsOfText(values.text('/origin')),
              scope: values.choice('/scope'),
              reason: values.text('/reason'),
            })}
            onDone={() => undefined}
          >
            <Notice>
              <p>The trace is made again as known now. Figures, consignees and the report of earlier versions stay as they are.</p>
            </Notice>
            <TextAreaField
              name="/origin"
              label="Traced from, one a line"
              className="code"
              required
              defaultValue={latest?.origin
                .map(({ lot, spans }) => textOfOrigin({ lot, pieces: spans === null ? undefined : spansText(spans) }))
                .join('\n')}
            />
            <ChoiceField
              name="/scope"
              label="Scope acted on"
              choices={[
                { value: 'narrow', says: 'narrow: the recorded pieces' },
                { value: 'conservative', says: 'conservative: whole lots' },
              ]}
              defaultValue={latest?.chosen}
            />
            <TextAreaField name="/reason" label="Why more or less than before" required />
          </CommandForm>
        </details>
      ) : null}
    </Section>
  );
}
