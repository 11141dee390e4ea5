import type { UseQueryResult } from '@tanstack/react-query';
import type { ComponentProps, ReactNode } from 'react';
import { Link } from 'wouter';
import { useMay } from '../app/session.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import type { Fact } from '../design/page.js';
import { Page, Section } from '../design/page.js';
import { addressOf, type Recorded, REVISERS, type Words } from './book.js';
import type { Told } from './changes.js';
import { Crumb } from './crumb.js';
import { type Revision, Revisions } from './revisions.js';

type Answer<Data> = Pick<UseQueryResult<Data, unknown>, 'data' | 'error' | 'refetch'>;

/** A record as it stands, every revision before, and its entries. */
export function RecordPage<Row extends Recorded>({
  words,
  code,
  query,
  history,
  told,
  about,
  aboutIn,
  facts = [],
  children,
}: {
  words: Words;
  code: string;
  query: Answer<Row>;
  history: Answer<readonly Revision<Row>[]>;
  /** What the record says, in words. */
  told: (record: Row) => readonly Told[];
  about: ComponentProps<typeof Entries>['about'];
  /** What the entries are about, where it is not the record alone. */
  aboutIn?: string;
  facts?: readonly Fact[];
  /** What the page shows besides: steps, parts, where it is used. */
  children?: (record: Row) => ReactNode;
}) {
  const mayRevise = useMay(...REVISERS);
  return (
    <Answered query={query} what={`${words.one} ${code}`}>
      {(record) => (
        <Page
          title={<span className="code">{record.code}</span>}
          name={`${record.code}, ${words.one}`}
          crumb={<Crumb place={words.place} title={words.many} />}
          sub={record.name}
          facts={[...facts, { label: 'Revision', value: record.revision }]}
          actions={
            mayRevise ? (
              <Link className="button" href={`${addressOf(words.place, code)}/revise`}>
                Revise it
              </Link>
            ) : undefined
          }
        >
          <AsItStands told={told(record)} revision={record.revision} />
          {children?.(record)}
          <Revisions words={words} query={history} told={told} />
          <Entries about={about} of={aboutIn} />
        </Page>
      )}
    </Answered>
  );
}

function AsItStands({ told, revision }: { told: readonly Told[]; revision: number }) {
  const said = told.filter(({ listed, text }) => !listed && text !== '');
  return (
    <Section title="As it stands" note={`revision ${revision}`}>
      <dl className="as-it-stands">
        {said.map(({ label, text }) => (
          <div key={label}>
            <dt>{label}</dt>
            <dd>{text}</dd>
          </div>
        ))}
      </dl>
    </Section>
  );
}
