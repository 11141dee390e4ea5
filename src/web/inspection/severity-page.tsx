import { useState } from 'react';
import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { InspectionTabs } from './inspection-tabs.js';
import { severityAddress } from './numbers-panel.js';
import { Recent, SeverityWord } from './severity-word.js';

type State = View<'SwitchingStateView'>;

/** How strict the next lot of every item from every supplier is inspected, and why. */
export function SeverityPage() {
  const query = server.useQuery('get', '/api/switching');
  const [earlier, setEarlier] = useState(false);
  return (
    <Answered query={query} what="the severities">
      {(states) => {
        const now = states.filter(({ inForce }) => inForce);
        const count = (of: State['severity']): number => now.filter(({ severity }) => severity === of).length;
        const shown = earlier ? states : now;
        return (
          <Page
            title="Severity"
            sub="How strict the next lot is inspected follows from how the last ones fared: switching by ISO 2859-1:1999, clause 9."
            facts={[
              { label: 'Normal', value: writtenCount(count('normal')) },
              { label: 'Tightened', value: writtenCount(count('tightened')), warn: count('tightened') > 0 },
              { label: 'Reduced', value: writtenCount(count('reduced')) },
              { label: 'Discontinued', value: writtenCount(count('discontinued')), warn: count('discontinued') > 0 },
            ]}
          >
            <InspectionTabs />
            <Section
              title="By item, supplier and class"
              note="each leads to its history; reduced inspection asks for a score of 30"
              actions={
                states.length > now.length ? (
                  <button type="button" aria-pressed={earlier} onClick={() => setEarlier(!earlier)}>
                    Earlier plans too
                  </button>
                ) : undefined
              }
            >
              <States states={shown} />
            </Section>
          </Page>
        );
      }}
    </Answered>
  );
}

function States({ states }: { states: readonly State[] }) {
  return (
    <LedgerTable
      caption="Severity of inspection by item, supplier and class"
      rows={states}
      rowKey={({ item, supplier, class: of, plan }) => `${item} ${supplier} ${of} ${plan}`}
      rowClass={({ severity }) => (severity === 'tightened' || severity === 'discontinued' ? 'affected' : undefined)}
      columns={[
        {
          head: 'Item',
          cell: (state) => (
            <Link className="code" href={severityAddress(state)}>
              {state.item}
            </Link>
          ),
        },
        { head: 'Supplier', cell: ({ supplier }) => (supplier === null ? 'made here' : <Refer kind="supplier" code={supplier} />) },
        {
          head: 'Class and plan',
          cell: ({ class: of, plan, inForce }) => (
            <>
              {of} <span className="quiet">{`${plan}${inForce ? '' : ', an earlier plan'}`}</span>
            </>
          ),
        },
        { head: 'Next lot', cell: ({ severity }) => <SeverityWord severity={severity} /> },
        { head: 'Last lots', cell: ({ recent, severity }) => (severity === 'normal' ? <Recent recent={recent} /> : '') },
        { head: 'Score', num: true, cell: ({ score, severity }) => (severity === 'normal' ? score : '') },
        {
          head: 'Why',
          cell: ({ because }) => <span className="wide">{because.map(({ words, rule }) => `${words} (${rule})`).join('; ')}</span>,
        },
      ]}
      empty={
        <Empty>
          <p>No lot has been judged by a sampling plan yet. The first verdict begins the history of its item, supplier and class.</p>
        </Empty>
      }
    />
  );
}
