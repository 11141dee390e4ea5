import { inWords } from '../../../shared/written.js';
import { server } from '../wire/client.js';
import { Answered } from '../design/answered.js';
import { Caution, Notice } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { amount } from './run.js';
import { StartForm } from './start-form.js';

/** A rework that a disposition asks for: what is to be worked on stands before the form, and the run's note names it. */
export function ReworkOf({ report, disposition }: { report: string; disposition: number }) {
  const query = server.useQuery('get', '/api/reports/{report}/dispositions', { params: { path: { report } } });
  return (
    <Answered query={query} what={`the dispositions of ${report}`}>
      {({ dispositions }) => {
        const found = dispositions.find((one) => one.disposition === disposition);
        if (found === undefined) {
          return (
            <Caution>
              <p>
                <Refer kind="report" code={report} /> has no disposition {disposition}.
              </p>
            </Caution>
          );
        }
        const part = found.pieces === null ? amount(found.quantity, found.unit) : `pieces ${found.pieces}`;
        return (
          <>
            <Notice>
              <p>
                {inWords(found.kind)} of {part} of <Refer kind="lot" code={found.lot} />, by disposition {disposition} of{' '}
                <Refer kind="report" code={report} />: {found.reason}
              </p>
            </Notice>
            {found.state === 'signed' ? null : (
              <Caution>
                <p>
                  {found.state === 'proposed'
                    ? `It is not signed yet${found.lacks.length > 0 ? ` (${found.lacks.join(', ')})` : ''}: work done before counts for nothing.`
                    : `It is ${inWords(found.state)} already.`}
                </p>
              </Caution>
            )}
            <StartForm
              kind="rework"
              vessel={null}
              item={found.item}
              rework={{ report, disposition, lot: found.lot, pieces: found.pieces }}
            />
          </>
        );
      }}
    </Answered>
  );
}
