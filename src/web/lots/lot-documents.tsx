import { useState } from 'react';
import { localWritten } from '../app/clock.js';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { TextAreaField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { fateWords, partWords } from './words.js';

type Document = View<'StockDocumentView'>;

const KINDS: Readonly<Record<string, string>> = {
  StockMoved: 'moved',
  StockCounted: 'counted',
  StockScrapped: 'scrapped',
  SampleRetained: 'retained',
  SampleTakenBack: 'sample taken back',
  DestroyedInTest: 'destroyed in test',
  ReturnedToSupplier: 'returned to the supplier',
  StockCorrected: 'correction',
};

/** What was carried, counted, scrapped and kept of the lot; a document that was wrong is put right by another that names it. */
export function LotDocuments({ lot, unit }: { lot: string; unit: string }) {
  const query = server.useQuery('get', '/api/stock/documents', { params: { query: { lot } } });
  const [wrong, setWrong] = useState<Document | null>(null);
  const mayCorrect = useMay('quality', 'administrator');
  return (
    <Section title="Stock documents">
      <Answered query={query} what="the stock documents">
        {(documents) => (
          <LedgerTable
            caption={`Stock documents of ${lot}, newest first`}
            rows={documents}
            rowKey={({ document }) => document}
            columns={[
              {
                head: 'Document',
                cell: ({ document, seq }) => (
                  <Refer kind="entry" code={`${seq}`}>
                    {document}
                  </Refer>
                ),
              },
              { head: 'When', cell: ({ at }) => localWritten(at) },
              { head: 'Who', cell: ({ by }) => <code>{by}</code> },
              { head: 'What', cell: ({ kind }) => KINDS[kind] ?? kind },
              { head: 'How much', cell: (document) => <Moved document={document} unit={unit} /> },
              {
                head: 'Reason',
                cell: ({ reason, evidence }) => (
                  <>
                    {reason}
                    {evidence === null ? null : <span className="quiet"> ({evidence})</span>}
                  </>
                ),
              },
              { head: 'Put right', cell: (document) => <PutRight document={document} may={mayCorrect} onWrong={setWrong} /> },
            ]}
            empty={
              <Empty>
                <p>Nothing of it was moved, counted, scrapped or kept by a document of its own.</p>
              </Empty>
            }
          />
        )}
      </Answered>
      {wrong === null ? null : <Correct document={wrong} unit={unit} onClose={() => setWrong(null)} />}
    </Section>
  );
}

function Moved({ document, unit }: { document: Document; unit: string }) {
  if (document.moved.length === 0) return <>as in the record</>;
  return (
    <>
      {document.moved.map((one) => (
        <div key={`${one.pieces} ${one.fromAt} ${one.toAt}`}>
          {partWords(one, unit)}: {fateWords(one.fromFate)} {one.fromAt} → {fateWords(one.toFate)} {one.toAt}
        </div>
      ))}
    </>
  );
}

function PutRight({ document, may, onWrong }: { document: Document; may: boolean; onWrong: (document: Document) => void }) {
  if (document.correctedSeq !== null) {
    return (
      <>
        undone by entry <Refer kind="entry" code={`${document.correctedSeq}`} />
      </>
    );
  }
  if (document.correctsSeq !== null) {
    return (
      <>
        undoes entry <Refer kind="entry" code={`${document.correctsSeq}`} />
      </>
    );
  }
  return may ? (
    <button type="button" className="plain" onClick={() => onWrong(document)}>
      It was wrong
    </button>
  ) : null;
}

function Correct({ document, unit, onClose }: { document: Document; unit: string; onClose: () => void }) {
  return (
    <Dialog title={`Undo ${document.document}`} onClose={onClose}>
      <p>An entry that names {document.document} puts its goods back to where they were said to have come from. Both stay readable.</p>
      <div className="will">
        <Moved document={document} unit={unit} />
      </div>
      <CommandForm
        path="/api/stock/corrections"
        body={(values) => ({ corrects: document.document, reason: values.text('/reason') })}
        submit={`Undo ${document.document}`}
        danger
        onDone={onClose}
        onCancel={onClose}
      >
        <TextAreaField name="/reason" label="What was wrong" required />
      </CommandForm>
    </Dialog>
  );
}
