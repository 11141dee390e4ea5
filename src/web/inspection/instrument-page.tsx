import { useState } from 'react';
import { Link } from 'wouter';
import { inWords, writtenCount, writtenDate } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Empty, Notice, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Stamp } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';
import { CalibrationForm } from './calibration-form.js';
import { InstrumentForm } from './instrument-form.js';
import { Judged } from './judged.js';
import { AnswerQuestion, VoidCalibration } from './question-dialogs.js';

type Card = View<'InstrumentCardView'>;
type Calibration = View<'CalibrationView'>;
type Question = View<'InstrumentQuestionView'>;
type Open =
  | { what: 'calibrate' }
  | { what: 'revise' }
  | { what: 'answer'; question: Question }
  | { what: 'void'; calibration: Calibration }
  | null;

/** One instrument: whether it may be used, its calibrations, and what was put in doubt. */
export function InstrumentPage({ instrument }: { instrument: string }) {
  const query = server.useQuery('get', '/api/instruments/{instrument}', { params: { path: { instrument } } });
  return (
    <Answered query={query} what="the instrument">
      {(card) => <CardPage card={card} />}
    </Answered>
  );
}

function CardPage({ card }: { card: Card }) {
  const [open, setOpen] = useState<Open>(null);
  const mayCalibrate = useMay('inspector', 'quality');
  const mayRevise = useMay('quality', 'administrator');
  const close = (): void => setOpen(null);
  return (
    <Page
      title={<code>{card.code}</code>}
      name={`Instrument ${card.code}`}
      crumb={
        <>
          <Link href="/inspection/instruments">Instruments</Link> · {card.kind}
        </>
      }
      stamps={card.use === 'withdrawn' ? <Stamp word="withdrawn" /> : <Stamp word={card.usable ? 'may be used' : 'may not be used'} />}
      sub={[
        card.name,
        card.serial === null ? null : `maker's number ${card.serial}`,
        card.resolution === null ? null : `shows ${card.resolution}`,
      ]
        .filter((part) => part !== null)
        .join(', ')}
      facts={[
        { label: 'Due', value: card.dueOn === null ? 'not set' : writtenDate(card.dueOn), warn: !card.usable },
        { label: 'Every', value: `${writtenCount(card.intervalDays)} days` },
        { label: 'Calibrations', value: writtenCount(card.calibrations.length) },
      ]}
      actions={
        <>
          {mayRevise ? (
            <button type="button" onClick={() => setOpen({ what: 'revise' })}>
              Revise
            </button>
          ) : null}
          {mayCalibrate ? (
            <button type="button" className="primary" onClick={() => setOpen({ what: 'calibrate' })}>
              Record a calibration
            </button>
          ) : null}
        </>
      }
    >
      {card.usable ? null : (
        <Caution>
          <p>
            It may not be used: {card.why?.detail ?? 'no calibration lets it be'}. The record refuses every result that names it
            {card.use === 'withdrawn' ? '.' : ' for a time after that day.'}
          </p>
        </Caution>
      )}
      {open?.what === 'calibrate' ? <CalibrationForm instrument={card.code} onClose={close} /> : null}
      {open?.what === 'revise' ? <InstrumentForm of={card} onClose={close} /> : null}
      {open?.what === 'answer' ? <AnswerQuestion question={open.question} onClose={close} /> : null}
      {open?.what === 'void' ? <VoidCalibration calibration={open.calibration} onClose={close} /> : null}
      <Questions card={card} onAnswer={(question) => setOpen({ what: 'answer', question })} />
      <Calibrations card={card} onVoid={(calibration) => setOpen({ what: 'void', calibration })} />
      <Entries about={{ instrument: card.code }} />
    </Page>
  );
}

function Questions({ card, onAnswer }: { card: Card; onAnswer: (question: Question) => void }) {
  const mayAnswer = useMay('quality');
  if (card.questions.length === 0) return null;
  const voided = new Set(card.calibrations.filter((one) => one.voided !== null).map(({ calibration }) => calibration));
  const waits = ({ state }: Question): boolean => state === 'open' || state === 'grown';
  return (
    <Section title="What did it judge?" note="since it was last known good">
      {card.questions.map((question) => (
        <div key={question.calibration} className="sheet question">
          <h3>
            {question.calibration}: {question.state}
          </h3>
          <p>
            {writtenCount(question.results)} results on {writtenCount(question.lots)} lots, {timeInWords(question.time)}.
            {question.conclusion === null
              ? ''
              : ` Answered by ${question.answeredBy}: ${CONCLUSIONS[question.conclusion] ?? question.conclusion}, because ${question.reason}.`}
            {voided.has(question.calibration) ? ' The calibration was recorded in error since: nothing is in doubt by it any more.' : ''}
            {question.state === 'grown' ? ` ${question.unseen} results came to light since and wait for another answer.` : ''}
          </p>
          {waits(question) ? (
            <Caution>
              <p>No lot is released on what it measured in this time until this is answered.</p>
            </Caution>
          ) : null}
          {waits(question) && mayAnswer ? (
            <button type="button" className="primary" onClick={() => onAnswer(question)}>
              Answer what it judged
            </button>
          ) : null}
          <Judged instrument={card.code} calibration={question.calibration} />
        </div>
      ))}
    </Section>
  );
}

const CONCLUSIONS: Readonly<Record<string, string>> = {
  'no-effect': 'what was judged still stands',
  contained: 'what may be wrong is contained',
};

function timeInWords({ from, to }: View<'DoubtfulTimeView'>): string {
  const since = from === null ? 'from its first use' : `from ${localWritten(from)}`;
  return `${since} ${to === null ? 'until now' : `to ${localWritten(to)}`}`;
}

function Calibrations({ card, onVoid }: { card: Card; onVoid: (calibration: Calibration) => void }) {
  const mayVoid = useMay('quality');
  return (
    <Section title="Calibrations" note="the latest first">
      <LedgerTable
        caption="Calibrations, the latest first"
        rows={card.calibrations}
        rowKey={({ calibration }) => calibration}
        columns={[
          { head: 'Calibration', cell: ({ calibration }) => <code>{calibration}</code> },
          { head: 'Made', cell: ({ calibratedAt }) => localWritten(calibratedAt) },
          { head: 'By', cell: ({ calibratedBy }) => calibratedBy },
          { head: 'As found', cell: ({ asFound }) => <Tolerance words={asFound} /> },
          { head: 'As left', cell: ({ result }) => <Tolerance words={result} /> },
          { head: 'Due', cell: ({ dueOn }) => (dueOn === null ? 'may not be used' : writtenDate(dueOn)) },
          { head: 'Readings', cell: ({ readings }) => <Readings readings={readings ?? []} /> },
          {
            head: 'Certificate',
            cell: ({ certificateFile }) => (certificateFile === null ? '' : <a href={`/api/files/${certificateFile}`}>open</a>),
          },
          {
            head: 'Counts',
            cell: (one) =>
              one.voided !== null ? (
                <span className="quiet">recorded in error: {one.voided.reason}</span>
              ) : mayVoid ? (
                <button type="button" aria-label={`Recorded in error: ${one.calibration}`} onClick={() => onVoid(one)}>
                  Recorded in error
                </button>
              ) : (
                'counts'
              ),
          },
          { head: 'Entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
        ]}
        empty={
          <Empty>
            <p>Never calibrated: it may not be used before its first calibration is recorded here.</p>
          </Empty>
        }
      />
      {card.calibrations.some(({ note }) => note !== null) ? (
        <Notice>
          {card.calibrations.map(({ calibration, note }) => (note === null ? null : <p key={calibration}>{`${calibration}: ${note}`}</p>))}
        </Notice>
      ) : null}
    </Section>
  );
}

function Tolerance({ words }: { words: string }) {
  const says = inWords(words);
  return words.startsWith('in-') || words.startsWith('adjusted') ? <>{says}</> : <span className="urgent">{says}</span>;
}

function Readings({ readings }: { readings: readonly View<'ReadingView'>[] }) {
  if (readings.length === 0) return <span className="quiet">none</span>;
  return (
    <ul className="tally-items">
      {readings.map(({ nominal, found, difference, tolerance, pass }) => (
        <li key={`${nominal} ${found}`} className={pass ? undefined : 'urgent'}>
          {nominal} showed {found}: {difference} of ±{tolerance}
          {pass ? '' : ', out'}
        </li>
      ))}
    </ul>
  );
}
