import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import { BomForm, TRACKED } from './bom-form.js';
import type { Book, Words } from './book.js';
import type { Told } from './changes.js';
import { EditPage } from './edit-page.js';
import { RecordList } from './record-list.js';
import { RecordPage } from './record-page.js';

type Bom = View<'BomView'>;

const WORDS: Words = {
  place: 'boms',
  many: 'Bills of materials',
  one: 'bill of materials',
  purpose: 'What one piece is built of, and whether its parts are tracked by lot or by serial.',
  kept: 'a run keeps the revision it was built by',
};
const trackedWord = (trackedBy: string): string => TRACKED.find(({ value }) => value === trackedBy)?.says ?? trackedBy;

const told = (bom: Bom): Told[] => [
  { label: 'Describes one piece of', text: bom.item },
  ...bom.lines.map(({ item, perPiece, trackedBy }) => ({
    label: `Part ${item}`,
    text: `${perPiece} into one piece, tracked ${trackedWord(trackedBy)}`,
    listed: true,
  })),
];

function List() {
  return (
    <RecordList
      words={WORDS}
      query={server.useQuery('get', '/api/boms')}
      columns={[
        { head: 'One piece of', cell: ({ item }) => <Refer kind="item" code={item} /> },
        { head: 'Parts', num: true, cell: ({ lines }) => lines.length },
      ]}
      teaches={
        <p>A run of filling or building goes by one: it names what each piece takes, and so what the run needs and what its yield is.</p>
      }
    />
  );
}

function BomPage({ code }: { code: string }) {
  const params = { params: { path: { bom: code } } };
  return (
    <RecordPage
      words={WORDS}
      code={code}
      query={server.useQuery('get', '/api/boms/{bom}', params)}
      history={server.useQuery('get', '/api/boms/{bom}/history', params)}
      told={told}
      about={{ bom: code }}
    >
      {(bom) => <Parts bom={bom} />}
    </RecordPage>
  );
}

function Parts({ bom }: { bom: Bom }) {
  const items = server.useQuery('get', '/api/items').data ?? [];
  const itemOf = (code: string) => items.find((one) => one.code === code);
  return (
    <Section
      title="Parts"
      note={
        <>
          into one piece of <Refer kind="item" code={bom.item} />
        </>
      }
    >
      <LedgerTable
        caption="Parts of one piece"
        rows={bom.lines}
        rowKey={({ item }) => item}
        columns={[
          { head: 'Item', cell: ({ item }) => <Refer kind="item" code={item} /> },
          { head: 'Name', cell: ({ item }) => itemOf(item)?.name ?? '' },
          { head: 'Into one piece', num: true, cell: ({ item, perPiece }) => `${perPiece} ${itemOf(item)?.unit ?? ''}` },
          { head: 'Tracked', cell: ({ trackedBy }) => trackedWord(trackedBy) },
        ]}
      />
    </Section>
  );
}

function Edit({ code }: { code: string | null }) {
  const query = server.useQuery('get', '/api/boms/{bom}', { params: { path: { bom: code ?? '' } } }, { enabled: code !== null });
  return <EditPage words={WORDS} code={code} query={query} form={(record) => <BomForm record={record} words={WORDS} />} />;
}

export const BOMS: Book = { words: WORDS, List, Page: BomPage, Edit };
