import { memo, useMemo } from 'react';
import type { TraceAnswer } from '../../../shared/api/trace.js';
import { writtenCount, writtenSpans } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { ConsigneesTable } from './consignees-table.js';
import { standings, writtenBulk } from './figures.js';
import { LotsTable } from './lots-table.js';
import type { Question } from './question.js';
import type { Views } from './views.js';

/** The same as tables: lots, who has it, where it is, and what no picture shows. */
export function TraceLists({
  question,
  answer,
  narrow,
  views,
}: {
  question: Question;
  answer: TraceAnswer;
  narrow: TraceAnswer;
  views: Views;
}) {
  return (
    <>
      <LotsTable answer={answer} views={views} />
      {question.direction === 'forward' ? <ConsigneesTable answer={answer} views={views} /> : null}
      {question.direction === 'forward' ? <WhereItIs answer={answer} /> : null}
      <InProcess answer={narrow} />
      <WasFitted answer={narrow} />
    </>
  );
}

const WhereItIs = memo(function WhereItIs({ answer }: { answer: TraceAnswer }) {
  const rows = useMemo(() => standings(answer), [answer]);
  if (rows.length === 0) return null;
  return (
    <Section id="where" title="Where it is" note="the origin’s own goods included; what went into other lots is in those">
      <LedgerTable
        caption="Where the affected goods are"
        rows={rows}
        rowKey={({ fate, at }) => `${fate} ${at}`}
        columns={[
          { head: 'What became of it', cell: ({ fate }) => fate },
          { head: 'Where', cell: ({ at }) => (at === '' ? '' : <Refer kind="location" code={at} />) },
          { head: 'Pieces', num: true, cell: ({ amount }) => (amount.pieces === 0 ? '' : writtenCount(amount.pieces)) },
          { head: 'In bulk', num: true, cell: ({ amount }) => writtenBulk(amount) },
        ]}
      />
    </Section>
  );
});

function InProcess({ answer: { inProcess } }: { answer: TraceAnswer }) {
  if (inProcess.length === 0) return null;
  return (
    <Section title="Runs still under way" note="what they will yield is in no list yet">
      <LedgerTable
        caption="Runs still under way with affected material"
        rows={inProcess}
        rowKey={({ run }) => run}
        columns={[
          { head: 'Run', cell: ({ run }) => <Refer kind="run" code={run} /> },
          { head: 'Kind', cell: ({ kind }) => kind },
          { head: 'On', cell: ({ place }) => place ?? '' },
          { head: 'Started', cell: ({ startedAt }) => localWritten(startedAt) },
          { head: 'Took', cell: ({ took }) => took.map(({ lot, quantity }) => `${lot} (${quantity})`).join(', ') },
        ]}
      />
    </Section>
  );
}

function WasFitted({ answer: { wasFitted } }: { answer: TraceAnswer }) {
  if (wasFitted.length === 0) return null;
  return (
    <Section title="Replaced since" note="units that were fitted with an affected part which has come out again">
      <LedgerTable
        caption="Units that were fitted with an affected part which was replaced since"
        rows={wasFitted}
        rowKey={({ lot, piece, part, at }) => `${lot} ${piece} ${part} ${at}`}
        columns={[
          {
            head: 'Unit',
            cell: ({ lot, piece, serial }) => (
              <Refer kind="lot" code={lot}>
                {serial ?? `${lot} ${writtenSpans([[piece, piece]])}`}
              </Refer>
            ),
          },
          { head: 'Came out', cell: ({ part, partPiece }) => `${part}${partPiece === null ? '' : ` ${partPiece}`}` },
          { head: 'Went in', cell: ({ replacedBy }) => <code>{replacedBy}</code> },
          { head: 'When', cell: ({ at }) => localWritten(at) },
          { head: 'Why', cell: ({ reason }) => reason },
        ]}
      />
    </Section>
  );
}
