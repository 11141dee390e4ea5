import { writtenQuantity, writtenShare } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server, type View } from '../wire/client.js';
import type { Book, Words } from './book.js';
import type { Told } from './changes.js';
import { EditPage } from './edit-page.js';
import { massOf, massOfSteps } from './mass-of-steps.js';
import { percentOfBp } from './percent.js';
import { RecipeForm } from './recipe-form.js';
import { RecordList } from './record-list.js';
import { RecordPage } from './record-page.js';

type Recipe = View<'RecipeView'>;

const WORDS: Words = {
  place: 'recipes',
  many: 'Recipes',
  one: 'recipe',
  purpose: 'What a mixture is made of: what is charged in which order, how exactly, and how long it is mixed.',
  kept: 'a batch keeps the revision it was made by',
};

const told = (recipe: Recipe): Told[] => [
  { label: 'Makes', text: recipe.item },
  { label: 'One batch', text: recipe.batch },
  { label: 'Yield without explanation', text: `${percentOfBp(recipe.yieldLowBp)} to ${percentOfBp(recipe.yieldHighBp)} % of theory` },
  ...recipe.steps.map(({ item, target, toleranceBp, mixMinutes }, at) => ({
    label: `Step ${at + 1}`,
    text: `${target} of ${item} ± ${percentOfBp(toleranceBp)} %, mixed ${mixMinutes} min`,
    listed: true,
  })),
];

function List() {
  return (
    <RecordList
      words={WORDS}
      query={server.useQuery('get', '/api/recipes')}
      columns={[
        { head: 'Makes', cell: ({ item }) => <Refer kind="item" code={item} /> },
        { head: 'One batch', num: true, cell: ({ batch }) => batch },
        { head: 'Steps', num: true, cell: ({ steps }) => steps.length },
      ]}
      teaches={
        <p>
          A recipe makes an item that is a mixture. Everything in it has a mass: it is counted in kg, or in L with a density, so put those
          items in first.
        </p>
      }
    />
  );
}

function RecipePage({ code }: { code: string }) {
  const params = { params: { path: { recipe: code } } };
  return (
    <RecordPage
      words={WORDS}
      code={code}
      query={server.useQuery('get', '/api/recipes/{recipe}', params)}
      history={server.useQuery('get', '/api/recipes/{recipe}/history', params)}
      told={told}
      about={{ recipe: code }}
    >
      {(recipe) => <Steps recipe={recipe} />}
    </RecordPage>
  );
}

function Steps({ recipe }: { recipe: Recipe }) {
  const items = server.useQuery('get', '/api/items').data ?? [];
  const itemOf = (code: string) => items.find((one) => one.code === code);
  const whole = massOfSteps(recipe.steps, items);
  return (
    <Section
      title="Steps"
      note={
        whole === null
          ? 'in the order in which they are charged'
          : `in the order in which they are charged; ${writtenQuantity(whole, 'kg')} together`
      }
    >
      <LedgerTable
        caption="Steps of the recipe, in order"
        rows={recipe.steps.map((step, at) => ({ ...step, at: at + 1 }))}
        rowKey={({ at }) => `${at}`}
        columns={[
          { head: 'Step', num: true, cell: ({ at }) => at },
          { head: 'Charge', cell: ({ item }) => <Refer kind="item" code={item} /> },
          { head: 'Name', cell: ({ item }) => itemOf(item)?.name ?? '' },
          { head: 'Target', num: true, cell: ({ item, target }) => `${target} ${itemOf(item)?.unit ?? ''}` },
          { head: 'Tolerance', num: true, cell: ({ toleranceBp }) => `± ${percentOfBp(toleranceBp)} %` },
          { head: 'Mix at least', num: true, cell: ({ mixMinutes }) => `${mixMinutes} min` },
          {
            head: 'Share by mass',
            num: true,
            cell: ({ item, target }) => {
              const mass = massOf(itemOf(item), target);
              return mass === null || whole === null ? '' : writtenShare(mass / whole);
            },
          },
        ]}
      />
    </Section>
  );
}

function Edit({ code }: { code: string | null }) {
  const query = server.useQuery('get', '/api/recipes/{recipe}', { params: { path: { recipe: code ?? '' } } }, { enabled: code !== null });
  return <EditPage words={WORDS} code={code} query={query} form={(record) => <RecipeForm record={record} words={WORDS} />} />;
}

export const RECIPES: Book = { words: WORDS, List, Page: RecipePage, Edit };
