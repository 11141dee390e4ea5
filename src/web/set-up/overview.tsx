import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { useMay } from '../app/session.js';
import { Notice, Page, Section } from '../design/page.js';
import { type Counts, useCounts } from './counts.js';

interface Line {
  readonly href: string;
  readonly title: string;
  readonly count: keyof Counts | null;
  readonly says: string;
}

/** The set-up as a book has its contents: by what the records are about. */
const CHAPTERS: readonly { readonly title: string; readonly lines: readonly Line[] }[] = [
  {
    title: 'The plant',
    lines: [
      { href: '/set-up/locations', title: 'Locations', count: 'locations', says: 'where stock stands' },
      { href: '/set-up/vessels', title: 'Vessels', count: 'vessels', says: 'what batches are mixed in' },
      { href: '/set-up/lines', title: 'Lines', count: 'lines', says: 'where goods are filled, built, packed' },
      { href: '/inspection/instruments', title: 'Instruments', count: 'instruments', says: 'what measures, and until when it may' },
    ],
  },
  {
    title: 'What it handles',
    lines: [
      { href: '/set-up/items', title: 'Items', count: 'items', says: 'what is bought, made and sold' },
      { href: '/set-up/recipes', title: 'Recipes', count: 'recipes', says: 'what a mixture is made of, in which order' },
      { href: '/set-up/boms', title: 'Bills of materials', count: 'boms', says: 'what one piece is built of' },
      { href: '/set-up/parties', title: 'Suppliers and customers', count: 'parties', says: 'whom goods come from and go to' },
    ],
  },
  {
    title: 'How it judges',
    lines: [
      { href: '/set-up/defects', title: 'Defects', count: 'defects', says: 'what can be wrong, by name' },
      {
        href: '/set-up/inspection-plans',
        title: 'Inspection plans',
        count: 'plans',
        says: 'characteristics that are looked at or measured, what is taken of a lot, what is accepted',
      },
    ],
  },
  {
    title: 'Who works here',
    lines: [
      { href: '/set-up/people', title: 'People', count: 'people', says: 'who may do what' },
      { href: '/set-up/keys', title: 'Keys', count: null, says: 'for programs that read or write the record' },
      { href: '/set-up/me', title: 'Myself', count: null, says: 'what I may do, and my password' },
    ],
  },
  {
    title: 'What was before',
    lines: [
      { href: '/set-up/imports', title: 'Records brought over', count: 'imports', says: 'older lots, links and shipments from files' },
    ],
  },
];

/** In the order in which a plant needs them: each rests on those above it. */
const FIRST: readonly {
  readonly title: string;
  readonly href: string;
  readonly counts: readonly (keyof Counts)[];
  readonly why: string;
}[] = [
  {
    title: 'People',
    href: '/set-up/people',
    counts: ['people'],
    why: 'Everyone acts under a code of their own. Two of quality, so that nobody alone releases what they made.',
  },
  {
    title: 'Locations',
    href: '/set-up/locations',
    counts: ['locations'],
    why: 'A dock in quarantine, a rack of ordinary stock, a shelf for retain samples.',
  },
  {
    title: 'Suppliers and customers',
    href: '/set-up/parties',
    counts: ['parties'],
    why: 'With whom to tell in a recall: it cannot be looked up when it is needed.',
  },
  { title: 'Items', href: '/set-up/items', counts: ['items'], why: 'First what is bought. From here on deliveries can be logged.' },
  {
    title: 'Defects, instruments, inspection plans',
    href: '/set-up/inspection-plans',
    counts: ['defects', 'plans'],
    why: 'What to take of a delivery and how to judge it.',
  },
  { title: 'Vessels, lines', href: '/set-up/vessels', counts: ['vessels', 'lines'], why: 'Where runs take place.' },
  {
    title: 'Recipes, bills of materials',
    href: '/set-up/recipes',
    counts: ['recipes', 'boms'],
    why: 'What goes into what. From here on runs can be started.',
  },
  {
    title: 'Records brought over',
    href: '/set-up/imports',
    counts: ['imports'],
    why: 'Only if there are older records: a trace can then reach back beyond today.',
  },
];

/** What there is of each, and what a new plant enters first. */
export function Overview() {
  const counts = useCounts();
  const mayChange = useMay('quality', 'administrator');
  return (
    <Page
      title="Set-up"
      sub="What the plant knows before anything happens. Nothing here is edited: a change is a new revision, and every earlier one stays readable."
    >
      {mayChange ? null : (
        <Notice>
          <p>Quality and administrators change the set-up; everyone can read it.</p>
        </Notice>
      )}
      <Section title="Contents" note="how many there are of each">
        <div className="contents">
          {CHAPTERS.map(({ title, lines }) => (
            <section key={title} aria-label={title}>
              <h3>{title}</h3>
              <ul>
                {lines.map((line) => (
                  <ContentsLine key={line.href} line={line} count={line.count === null ? null : counts[line.count]} />
                ))}
              </ul>
            </section>
          ))}
        </div>
      </Section>
      <NewPlant counts={counts} />
    </Page>
  );
}

function ContentsLine({ line: { href, title, says }, count }: { line: Line; count: number | null | undefined }) {
  return (
    <li>
      <Link href={href}>
        <span className="title">{title}</span>
        {count === null || count === undefined ? null : (
          <>
            <span className="leader" aria-hidden="true" />
            <span className="num">{writtenCount(count)}</span>
          </>
        )}
      </Link>
      <p className="quiet">{says}</p>
    </li>
  );
}

function NewPlant({ counts }: { counts: Counts }) {
  const entered = FIRST.map((step) => step.counts.every((name) => (counts[name] ?? 1) > 0));
  // What was before is brought over by those who have it; the list is complete without.
  const next = entered.slice(0, -1).indexOf(false);
  const stateOf = (at: number): string => {
    if (entered[at]) return 'entered';
    if (at === FIRST.length - 1) return 'if there are any';
    return at === next ? 'next' : 'later';
  };
  return (
    <Section title="A new plant enters first" note={next === -1 ? 'all of it is here' : 'each step rests on those above it'}>
      <ol className="first-steps">
        {FIRST.map(({ title, href, why }, at) => (
          <li key={title} className={stateOf(at).replaceAll(' ', '-')}>
            <Link href={href}>{title}</Link> <span className="state">{stateOf(at)}</span>
            <p className="quiet">{why}</p>
          </li>
        ))}
      </ol>
    </Section>
  );
}
