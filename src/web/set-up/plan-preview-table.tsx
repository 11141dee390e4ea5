import { useState } from 'react';
import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { classesOf, type DraftSampling } from './plan-draft.js';
import { type Preview, previewOf } from './plan-preview.js';

const USUAL_SIZES = [20, 100, 500, 1200, 5000, 20_000];
const LARGEST = 2 ** 53;

/** What the plan takes of lots of different sizes, kept up to date while it is typed. */
export function PlanPreview({ sampling }: { sampling: DraftSampling }) {
  const [asked, setAsked] = useState('');
  const size = /^[1-9][0-9]{0,15}$/u.test(asked) && Number(asked) <= LARGEST ? Number(asked) : null;
  const sizes = [...new Set(size === null ? USUAL_SIZES : [size, ...USUAL_SIZES])];
  const rows = sizes.map((one) => previewOf(sampling, one)).filter((preview) => preview !== null);
  const classes = classesOf(sampling);
  if (rows.length === 0) {
    return (
      <Section title="What it takes">
        <p className="quiet">
          Choose an AQL for major or for minor: then this shows what is taken of a lot, and at how many it is not accepted.
        </p>
      </Section>
    );
  }
  const because = rows.filter((row) => row.because.length > 0);
  return (
    <Section title="What it takes" note="at the severity at which inspection starts, normal (ISO 2859-1:1999)">
      <div className="preview">
        <p className="narrow">
          <label htmlFor="preview-lot-size">A lot of</label>
          <input
            id="preview-lot-size"
            inputMode="numeric"
            autoComplete="off"
            placeholder="items in the lot"
            value={asked}
            onChange={(event) => setAsked(event.target.value.trim())}
          />
        </p>
        <LedgerTable
          caption="Sample size, acceptance and rejection numbers by lot size"
          rows={rows}
          rowKey={({ lotSize }) => `${lotSize}`}
          rowClass={({ lotSize }) => (lotSize === size ? 'chosen' : undefined)}
          columns={[
            { head: 'Lot size', num: true, cell: ({ lotSize }) => writtenCount(lotSize) },
            { head: 'Letter', cell: ({ codeLetter }) => codeLetter },
            { head: 'Take', num: true, cell: ({ take }) => <strong>{take}</strong> },
            ...classes.map(({ class: of, aql }) => ({
              head: `${of === 'major' ? 'Major' : 'Minor'}, AQL ${aql}: accept / refuse`,
              num: true,
              cell: (row: Preview) => row.classes.find((one) => one.class === of)?.numbers ?? '',
            })),
            {
              head: 'Its curve',
              cell: ({ lotSize }) =>
                classes.map(({ class: of, aql }) => (
                  <Link key={of} className="curve-link" href={curveOf(sampling, lotSize, aql)}>
                    {of}
                  </Link>
                )),
            },
          ]}
        />
      </div>
      <p className="quiet">Critical has no AQL: it is looked for on every item of the sample, and one found stops the lot.</p>
      {because.length === 0 ? null : (
        <details className="why">
          <summary>Why it is so for {because.length === 1 ? '1 lot size' : `${because.length} lot sizes`}</summary>
          <ul>
            {because.map(({ lotSize, because: whys }) => (
              <li key={lotSize}>
                {writtenCount(lotSize)}: {whys.join('; ')}
              </li>
            ))}
          </ul>
        </details>
      )}
    </Section>
  );
}

/** The operating characteristic of a plan: what a sample can tell of a lot. */
function curveOf({ level, type, basis }: DraftSampling, lotSize: number, aql: string): string {
  const asked = new URLSearchParams({ lotSize: `${lotSize}`, level, aql, severity: 'normal', type, basis });
  return `/inspection/oc?${asked.toString()}`;
}
