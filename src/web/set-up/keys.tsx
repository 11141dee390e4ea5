import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Dialog } from '../design/dialog.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Caution, Empty, Notice, Page, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { Refused } from '../design/refused.js';
import { api, server, type View } from '../wire/client.js';
import { Crumb } from './crumb.js';
import { NewKey } from './new-key.js';
import { roleTitle } from './role-words.js';
import { useAsked } from './use-asked.js';

type Key = View<'KeyView'>;

/** Keys for programs: which there are, whom they act as, and how to stop one. */
export function Keys() {
  const maySee = useMay('auditor', 'administrator');
  return maySee ? (
    <KeyPage />
  ) : (
    <Page title="Keys" crumb={<Crumb />}>
      <Notice>
        <p>Keys are for programs that read or write the record. Administrators make them; auditors see which there are.</p>
      </Notice>
    </Page>
  );
}

function KeyPage() {
  const query = server.useQuery('get', '/api/keys');
  const mayMake = useMay('administrator');
  return (
    <Answered query={query} what="the keys">
      {(keys) => (
        <Page
          title="Keys"
          crumb={<Crumb />}
          sub="For programs: a key acts as its person, and never with more than the person may at that moment."
          facts={[
            { label: 'In force', value: writtenCount(keys.filter(({ revokedAt }) => revokedAt === null).length) },
            { label: 'Stopped', value: writtenCount(keys.filter(({ revokedAt }) => revokedAt !== null).length) },
          ]}
        >
          {mayMake ? <NewKey /> : null}
          <Section title="In the record" note="the keys themselves are stored nowhere">
            <KeyTable keys={keys} mayStop={mayMake} />
          </Section>
        </Page>
      )}
    </Answered>
  );
}

function KeyTable({ keys, mayStop }: { keys: readonly Key[]; mayStop: boolean }) {
  const [stopping, setStopping] = useState<Key | null>(null);
  return (
    <>
      <LedgerTable
        caption="Keys"
        rows={keys}
        rowKey={({ id }) => id}
        columns={[
          { head: 'Key', cell: ({ id }) => <code>{id}</code> },
          { head: 'What for', cell: ({ label }) => label },
          { head: 'Acts as', cell: ({ person }) => <Refer kind="person" code={person} /> },
          { head: 'In role', cell: ({ role }) => (role === null ? 'all of theirs' : roleTitle(role).toLowerCase()) },
          { head: 'Made', cell: ({ createdAt, createdBy }) => `${localWritten(createdAt)}, ${createdBy}` },
          {
            head: 'Stopped',
            cell: (key) => {
              if (key.revokedAt !== null) return `${localWritten(key.revokedAt)}, ${key.revokedBy}`;
              return mayStop ? (
                <button type="button" className="danger" onClick={() => setStopping(key)}>
                  Stop … <span className="hidden-but-read">{key.label}</span>
                </button>
              ) : (
                'in force'
              );
            },
          },
        ]}
        empty={
          <Empty>
            <p>No key has been made. A program that books deliveries, prints labels or reads the record needs one; people do not.</p>
          </Empty>
        }
      />
      {stopping === null ? null : <StopKey of={stopping} onClose={() => setStopping(null)} />}
    </>
  );
}

function StopKey({ of, onClose }: { of: Key; onClose: () => void }) {
  const { busy, problem, ask } = useAsked<Key>();
  return (
    <Dialog title={`Stop ${of.id}`} onClose={onClose}>
      {problem === null ? null : <Refused problem={problem} />}
      <Caution>
        <p>“{of.label}” stops at once and for good: what uses it is answered 401 from then on. Another key can be made at any time.</p>
      </Caution>
      <div className="row">
        <button
          type="button"
          className="danger"
          disabled={busy}
          onClick={() => void ask(() => api.POST('/api/keys/{key}/revoke', { params: { path: { key: of.id } } }), onClose)}
        >
          {busy ? 'Sending …' : 'Stop the key for good'}
        </button>
        <button type="button" onClick={onClose}>
          Cancel
        </button>
      </div>
    </Dialog>
  );
}
