import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';

/** Every result taken with the instrument in the time in doubt, and the lots they judged: read when asked for. */
export function Judged({ instrument, calibration }: { instrument: string; calibration: string }) {
  const [shown, setShown] = useState(false);
  return (
    <div className="judged">
      <button type="button" aria-expanded={shown} onClick={() => setShown(!shown)}>
        {shown ? 'Hide the results' : 'Show every result and lot'}
      </button>
      {shown ? <Results instrument={instrument} calibration={calibration} /> : null}
    </div>
  );
}

function Results({ instrument, calibration }: { instrument: string; calibration: string }) {
  const query = server.useQuery('get', '/api/instruments/{instrument}/judged', {
    params: { path: { instrument }, query: { calibration } },
  });
  return (
    <Answered query={query} what="what it judged">
      {({ results, lots, trace }) => (
        <>
          <h3>{writtenCount(lots.length)} lots</h3>
          <LedgerTable
            caption="Lots that it judged"
            rows={lots}
            rowKey={({ lot }) => lot}
            columns={[
              { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
              { head: 'Item', cell: ({ item }) => <code>{item}</code> },
              {
                head: 'Inspections',
                cell: ({ inspections }) =>
                  inspections.map(({ inspection, verdict, state }) => (
                    <span key={inspection} className="row keep">
                      <Refer kind="inspection" code={inspection} /> {verdict ?? state}
                    </span>
                  )),
              },
            ]}
            empty={<p>None.</p>}
          />
          {trace === null ? null : (
            <p>
              Everything made from them: {writtenCount(trace.lots.length)} lots; {writtenCount(trace.consignees.length)} consignees were
              sent any of it.
            </p>
          )}
          <h3>{writtenCount(results.length)} results</h3>
          <LedgerTable
            caption="Results taken with it in that time"
            rows={results}
            rowKey={({ seq, number, piece }) => `${seq} ${number} ${piece}`}
            columns={[
              { head: 'When', cell: ({ at }) => localWritten(at) },
              { head: 'Lot', cell: ({ lot }) => <Refer kind="lot" code={lot} /> },
              { head: 'Inspection', cell: ({ inspection }) => <Refer kind="inspection" code={inspection} /> },
              { head: 'Characteristic', cell: ({ characteristic }) => <code>{characteristic}</code> },
              { head: 'Value', num: true, cell: ({ value, unit }) => `${value} ${unit}` },
              { head: 'Judged', cell: ({ within, takenBack }) => (takenBack ? 'taken back' : within ? 'within' : 'outside') },
              { head: 'By', cell: ({ person }) => <code>{person}</code> },
            ]}
            empty={<p>None.</p>}
          />
        </>
      )}
    </Answered>
  );
}
