import { Link } from 'wouter';
import { writtenCount } from '../../../shared/written.js';
import { AcReGauge } from '../pictures/ac-re.js';
import type { View } from '../wire/client.js';
import type { Counts } from './tally-state.js';
import { writtenItems } from './words.js';
import './numbers-panel.css';

type Inspection = View<'InspectionView'>;
type Class = View<'ClassView'>;

/** Where the severity of an item from a supplier stands and how it came there. */
export const severityAddress = ({ item, supplier }: { item: string; supplier: string | null }): string =>
  `/inspection/severity/${encodeURIComponent(item)}${supplier === null ? '' : `?supplier=${encodeURIComponent(supplier)}`}`;

/** What to take, and at how many the lot is accepted or not: always in sight while inspecting. `waiting` is not written down yet. */
export function NumbersPanel({ of, waiting }: { of: Inspection; waiting: Counts }) {
  const { sample } = of;
  if (sample === null) return null;
  const double = sample.second !== null;
  return (
    <section className="numbers-panel" aria-label="Sample size, acceptance and rejection numbers">
      <Take of={of} waiting={waiting.looked} />
      <table>
        <caption className="hidden-but-read">Acceptance numbers (Ac) and rejection numbers (Re) by class, and what was found</caption>
        <thead>
          <tr>
            <th scope="col">Class</th>
            <th scope="col">AQL, severity</th>
            {double ? (
              <>
                <th scope="col">First {writtenCount(sample.first)}</th>
                <th scope="col">Both {writtenCount(sample.first + (sample.second ?? 0))}</th>
              </>
            ) : (
              <th scope="col">Accept up to, refuse from</th>
            )}
            <th scope="col" className="num">
              Found
            </th>
            <th scope="col">Toward Re</th>
          </tr>
        </thead>
        <tbody>
          {of.classes.map((one) => (
            <ClassRow key={one.class} one={one} of={of} waiting={waiting.byClass[one.class]} />
          ))}
        </tbody>
      </table>
    </section>
  );
}

/** The first thing to know: how many to take, and how many are left. */
function Take({ of, waiting }: { of: Inspection; waiting: number }) {
  const { sample, inspected, toInspect, secondSample } = of;
  if (sample === null) return null;
  const both = (inspected[0] ?? 0) + (inspected[1] ?? 0);
  const left = Math.max(0, toInspect - waiting);
  return (
    <p className="take">
      <strong className="how-many">
        Take {writtenCount(sample.first)}
        {secondSample && sample.second !== null ? ` and ${writtenCount(sample.second)} more` : ''}
      </strong>{' '}
      <span>
        looked at <strong>{writtenCount(both)}</strong>
        {waiting > 0 ? <> and {writtenCount(waiting)} not yet written down</> : null}
      </span>{' '}
      <span>
        <strong>{writtenItems(left)}</strong> left
      </span>{' '}
      <span className="quiet">
        letter <code>{sample.codeLetter}</code>, level {sample.level}, {sample.type} sampling, {sample.edition}
      </span>
    </p>
  );
}

function ClassRow({ one, of, waiting }: { one: Class; of: Inspection; waiting: number }) {
  const double = of.sample?.second !== null;
  const plan = one.plan;
  const found = (of.secondSample ? one.found[1] : one.found[0]) ?? 0;
  const reached = found + waiting >= one.re;
  const numbers = (ac: number, re: number, now: boolean) => (
    <td className={now ? 'ac-re-numbers now' : 'ac-re-numbers'}>
      Ac <b>{ac}</b> Re <b>{re}</b>
    </td>
  );
  return (
    <tr className={`class-${one.class}`}>
      <th scope="row">{one.class}</th>
      <td>
        {one.aql === null ? (
          'one is enough'
        ) : (
          <>
            {one.aql}, <Link href={severityAddress(of)}>{one.severity}</Link>
          </>
        )}
      </td>
      {double && plan?.n1 !== undefined ? (
        <>
          {numbers(plan.ac1 ?? 0, plan.re1 ?? 0, !of.secondSample)}
          {numbers(plan.ac2 ?? 0, plan.re2 ?? 0, of.secondSample)}
        </>
      ) : (
        <>
          {numbers(one.ac, one.re, !double || !of.secondSample)}
          {double ? numbers(one.ac, one.re, of.secondSample) : null}
        </>
      )}
      <td className={`num found${reached ? ' urgent' : ''}`}>
        {found}
        {waiting > 0 ? <> + {waiting}</> : null}
      </td>
      <td>
        <AcReGauge name={one.class} found={found} waiting={waiting} ac={one.ac} re={one.re} />
      </td>
    </tr>
  );
}
