import { Link } from 'wouter';
import { useMay } from '../app/session.js';
import { Hazard } from '../design/hazard.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';
import { addressOf, type Book, REVISERS } from './book.js';
import { EditPage } from './edit-page.js';
import { ITEM_WORDS, itemTold } from './item-book.js';
import { ItemForm } from './item-form.js';
import { classWord, trackingWord } from './item-words.js';
import { RecordList } from './record-list.js';
import { RecordPage } from './record-page.js';

function List() {
  return (
    <RecordList
      words={ITEM_WORDS}
      query={server.useQuery('get', '/api/items')}
      columns={[
        { head: 'What it is', cell: (item) => classWord(item.class) },
        { head: 'Counted in', cell: ({ unit }) => unit },
        { head: 'A lot is', cell: ({ tracking }) => trackingWord(tracking) },
        { head: 'GTIN', cell: ({ gtin }) => (gtin === null ? '' : <code>{gtin}</code>) },
      ]}
      teaches={
        <p>
          Begin with what you buy: raw materials, packaging, components. A delivery can be logged as soon as its items and its supplier are
          here.
        </p>
      }
    />
  );
}

function Item({ code }: { code: string }) {
  const params = { params: { path: { item: code } } };
  return (
    <RecordPage
      words={ITEM_WORDS}
      code={code}
      query={server.useQuery('get', '/api/items/{item}', params)}
      history={server.useQuery('get', '/api/items/{item}/history', params)}
      told={itemTold}
      about={{ item: code }}
    >
      {({ hazard }) => (
        <>
          <Hazard says={hazard} handling />
          <WhereUsed item={code} />
        </>
      )}
    </RecordPage>
  );
}

/** Where an item is used: its lots, its inspection plan, what it is made of, and what is made of it. */
function WhereUsed({ item }: { item: string }) {
  const mayAdd = useMay(...REVISERS);
  const plans = server.useQuery('get', '/api/inspection-plans').data ?? [];
  const recipes = server.useQuery('get', '/api/recipes').data ?? [];
  const boms = server.useQuery('get', '/api/boms').data ?? [];
  const planned = plans.some(({ code }) => code === item);
  const madeBy = recipes.filter((one) => one.item === item).map(({ code }) => <Refer key={code} kind="recipe" code={code} />);
  const builtBy = boms.filter((one) => one.item === item).map(({ code }) => <Refer key={code} kind="bom" code={code} />);
  const goesInto = [
    ...recipes.filter(({ steps }) => steps.some((step) => step.item === item)),
    ...boms.filter(({ lines }) => lines.some((line) => line.item === item)),
  ].map((one) => <Refer key={one.code} kind="item" code={one.item} />);
  return (
    <Section title="Where it is used">
      <ul className="used">
        <li>
          <Link href={`/lots?item=${encodeURIComponent(item)}`}>Its lots</Link>
        </li>
        <li>
          {planned ? (
            <Link href={addressOf('inspection-plans', item)}>Its inspection plan</Link>
          ) : (
            <>
              No inspection plan: nothing opens an inspection of it by itself.{' '}
              {mayAdd ? <Link href={`/set-up/new/inspection-plans?item=${encodeURIComponent(item)}`}>Add one</Link> : null}
            </>
          )}
        </li>
        {madeBy.length === 0 ? null : <li>Made by recipe {madeBy}</li>}
        {builtBy.length === 0 ? null : <li>Built by bill of materials {builtBy}</li>}
        {goesInto.length === 0 ? null : <li>Goes into {goesInto}</li>}
      </ul>
    </Section>
  );
}

function Edit({ code }: { code: string | null }) {
  const query = server.useQuery('get', '/api/items/{item}', { params: { path: { item: code ?? '' } } }, { enabled: code !== null });
  return <EditPage words={ITEM_WORDS} code={code} query={query} form={(record) => <ItemForm record={record} />} />;
}

export const ITEMS: Book = { words: ITEM_WORDS, List, Page: Item, Edit };
