import { writtenCount } from '../../../shared/written.js';
import { server } from '../wire/client.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Section } from '../design/page.js';
import './ledger.css';

/** How far the record goes, signed: something to keep outside of the plant, and the whole of it to take along. */
export function CheckpointNow() {
  const query = server.useQuery('get', '/api/ledger/checkpoint');
  const mayExport = useMay('quality', 'auditor', 'administrator');
  return (
    <Section
      title="The record so far"
      note="a checkpoint: who keeps it can prove later that nothing before it was changed"
      actions={
        <>
          <a className="button" href="/api/ledger/checkpoint.txt" download>
            Download the checkpoint
          </a>
          <a className="button" href="/api/ledger/checkpoint-key.pem" download>
            Download the public key
          </a>
          {mayExport ? (
            <a className="button" href="/api/ledger/export.jsonl" download>
              Export all entries
            </a>
          ) : null}
        </>
      }
    >
      <Answered query={query} what="the checkpoint">
        {({ size, at, note, verifierKey }) => (
          <>
            <p>
              {size === 0 || at === null
                ? 'The ledger is empty.'
                : `${writtenCount(size)} entries, the last of ${localWritten(at, true)}. The third line below is the root of the tree over their hashes.`}
            </p>
            <pre className="note" aria-label="Checkpoint, as signed">
              {note}
            </pre>
            <p className="quiet">
              It can be checked without this program, with the key <code className="long-code">{verifierKey}</code>
            </p>
          </>
        )}
      </Answered>
    </Section>
  );
}
