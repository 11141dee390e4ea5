import { useState } from 'react';
import { writtenCount, writtenDate } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Empty, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { InspectionTabs } from './inspection-tabs.js';
import { InstrumentForm } from './instrument-form.js';

type Instrument = View<'InstrumentStateView'>;

/** Gauges and testers: what may be used, until when, and what is in doubt. */
export function InstrumentsPage() {
  const query = server.useQuery('get', '/api/instruments');
  const mayAdd = useMay('quality', 'administrator');
  const [adding, setAdding] = useState(false);
  return (
    <Answered query={query} what="the instruments">
      {(instruments) => {
        const inUse = instruments.filter(({ use }) => use === 'in-use');
        const stopped = inUse.filter(({ usable }) => !usable);
        return (
          <Page
            title="Instruments"
            sub="What nothing vouches for measures nothing: the record refuses a result taken with it."
            facts={[
              { label: 'In use', value: writtenCount(inUse.length) },
              { label: 'May be used now', value: writtenCount(inUse.length - stopped.length) },
              { label: 'May not', value: writtenCount(stopped.length), warn: stopped.length > 0 },
            ]}
            actions={
              mayAdd ? (
                <button type="button" onClick={() => setAdding(true)}>
                  Put an instrument in the register
                </button>
              ) : undefined
            }
          >
            <InspectionTabs />
            {adding ? <InstrumentForm onClose={() => setAdding(false)} /> : null}
            <Questions />
            <Section title="Register" note="those that may not be used first, then by the day they are due">
              <Register instruments={instruments} />
            </Section>
          </Page>
        );
      }}
    </Answered>
  );
}

function Register({ instruments }: { instruments: readonly Instrument[] }) {
  return (
    <LedgerTable
      caption="Instruments, due first"
      rows={instruments}
      rowKey={({ code }) => code}
      rowClass={({ usable, use }) => (!usable && use === 'in-use' ? 'affected' : undefined)}
      columns={[
        { head: 'Instrument', cell: ({ code }) => <Refer kind="instrument" code={code} /> },
        { head: 'Name', cell: ({ name }) => name },
        { head: 'Kind', cell: ({ kind }) => kind },
        { head: 'Due', cell: ({ dueOn }) => (dueOn === null ? '' : writtenDate(dueOn)) },
        { head: 'Last calibrated', cell: ({ lastCalibratedAt }) => (lastCalibratedAt === null ? 'never' : localWritten(lastCalibratedAt)) },
        {
          head: 'May be used',
          cell: ({ usable, why }) => (usable ? 'yes' : <span className="urgent">no: {why?.detail ?? 'no calibration lets it be'}</span>),
        },
        { head: 'Open questions', cell: ({ openQuestions }) => openQuestions.join(', ') },
      ]}
      empty={
        <Empty>
          <p>No instrument yet. Put the gauges and testers in the register, then record the calibration of each.</p>
        </Empty>
      }
    />
  );
}

/** What an instrument found out of tolerance has judged: waits for an answer. */
function Questions() {
  const query = server.useQuery('get', '/api/instruments/questions');
  const questions = query.data ?? [];
  if (questions.length === 0) return null;
  return (
    <Section
      title={`In doubt: ${writtenCount(questions.length)}`}
      note="found or left out of tolerance: what did it judge since it was last known good?"
    >
      <Caution>
        <p>No lot is released on what these instruments measured in the time in doubt, until quality has answered.</p>
      </Caution>
      <LedgerTable
        caption="Open questions about instruments, oldest first"
        rows={questions}
        rowKey={({ calibration }) => calibration}
        columns={[
          { head: 'Calibration', cell: ({ calibration }) => <code>{calibration}</code> },
          { head: 'Instrument', cell: ({ instrument }) => <Refer kind="instrument" code={instrument} /> },
          { head: 'Opened', cell: ({ openedAt }) => localWritten(openedAt) },
          { head: 'Results', num: true, cell: ({ results }) => writtenCount(results) },
          { head: 'Lots', num: true, cell: ({ lots }) => writtenCount(lots) },
        ]}
      />
    </Section>
  );
}
