import { type ClipboardEvent, useEffect, useRef } from 'react';
import { Link } from 'wouter';
import { localDate } from '../app/clock.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty } from '../design/page.js';
import { readScan } from '../../../shared/scan/read-scan.js';
import type { Scan } from '../../../shared/scan/scan.js';
import { inWords } from '../../../shared/written.js';
import { server } from '../wire/client.js';
import type { operations } from '../wire/schema.js';
import { type Candidate, candidatesOf, onlyOne } from './candidates.js';
import { OriginForm } from './origin-form.js';
import { addressOf, hasOrigin, type Origin, type Question } from './question.js';
import { codesIn, SeveralCodes } from './several-codes.js';
import type { Ask } from './use-question.js';

/** Anything typed, pasted or scanned; several things of that code are put to choice. */
export function OriginBox({ question, ask }: { question: Question; ask: Ask }) {
  const box = useRef<HTMLInputElement>(null);
  return (
    <>
      <form
        className="trace-box"
        onSubmit={(event) => {
          event.preventDefault();
          const text = box.current?.value.trim() ?? '';
          if (text !== '') ask({ text });
        }}
      >
        <label htmlFor="trace-text">Scan, type or paste anything to trace</label>
        <div className="row">
          <input
            ref={box}
            id="trace-text"
            key={question.text}
            defaultValue={question.text ?? ''}
            className="code"
            type="text"
            autoComplete="off"
            autoCapitalize="off"
            autoCorrect="off"
            spellCheck={false}
            onPaste={pasteLines}
          />
          <button type="submit" className="primary">
            Trace
          </button>
        </div>
      </form>
      {question.text === null ? null : <Understood key={question.text} text={question.text} question={question} ask={ask} />}
      <OriginForm question={question} ask={ask} />
    </>
  );
}

/** A column of a sheet, pasted: a box of one line would join the codes to one. */
function pasteLines(event: ClipboardEvent<HTMLInputElement>): void {
  const pasted = event.clipboardData.getData('text/plain').trim();
  if (!/[\t\r\n]/u.test(pasted)) return;
  event.preventDefault();
  const box = event.currentTarget;
  box.setRangeText(pasted.split(/[\t\r\n]+/u).join(', '), box.selectionStart ?? 0, box.selectionEnd ?? 0, 'end');
}

type FindQuery = NonNullable<operations['findAnything']['parameters']['query']>;

/** What is looked for: what a label says, each part by what it is, or the text itself. */
function findQuery(scan: Scan): FindQuery {
  if (scan.kind !== 'gs1') return { text: scan.text.trim() };
  const { gtin, lot, serial } = scan;
  if (gtin === null && lot === null && serial === null) return { text: scan.item ?? scan.sscc ?? scan.text };
  return { ...(gtin === null ? {} : { gtin }), ...(lot === null ? {} : { lot }), ...(serial === null ? {} : { serial }) };
}

function Understood({ text, question, ask }: { text: string; question: Question; ask: Ask }) {
  const scan = readScan(text, localDate());
  if (scan.kind === 'faulty') {
    return (
      <div className="summary" role="alert">
        <h2>That code is damaged or not written as it should be</h2>
        <ul>
          {scan.reasons.map(({ code, detail }) => (
            <li key={`${code} ${detail}`}>{detail}</li>
          ))}
        </ul>
        <p>Scan it again, or type the lot code that is printed beside it.</p>
      </div>
    );
  }
  const codes = scan.kind === 'plain' ? codesIn(text) : [];
  // No code of one thing has a tab or the end of a line in it.
  if (codes.length > 1 && /[\t\r\n]/u.test(text)) return <SeveralCodes codes={codes} question={question} ask={ask} />;
  return <Candidates scan={scan} text={text} codes={codes} question={question} ask={ask} />;
}

function Candidates({
  scan,
  text,
  codes,
  question,
  ask,
}: {
  scan: Scan;
  text: string;
  /** What the text is if it is no one code. */
  codes: readonly string[];
  question: Question;
  ask: Ask;
}) {
  const query = server.useQuery('get', '/api/find', { params: { query: findQuery(scan) } });
  const candidates = candidatesOf(query.data?.found ?? []);
  const only = query.data === undefined ? null : onlyOne(candidates);
  useEffect(() => {
    if (only !== null) ask({ origin: only, text: null, chosen: null });
    // oxlint-disable-next-line react-hooks/exhaustive-deps -- once, when it is known
  }, [query.data]);
  if (only !== null) return null;
  if (query.data?.total === 0 && codes.length > 1) return <SeveralCodes codes={codes} question={question} ask={ask} />;
  return (
    <Answered query={query} what="what has that code">
      {({ total }) => (
        <section className="trace-candidates" aria-label={`Found for ${text}`}>
          <p role="status">
            {total === 0 ? 'Nothing has that code.' : `${total} found for `}
            {total === 0 ? null : <code>{text}</code>}
            {total === 0 ? null : '. Choose what to trace.'}
            {total > candidates.length ? ` The ${candidates.length} that fit best are listed; type more of the code for the others.` : null}
          </p>
          <LedgerTable
            caption={`Found for ${text}`}
            rows={candidates}
            rowKey={({ found: { kind, code, of, supplier } }) => `${kind} ${code} ${of} ${supplier}`}
            columns={[
              { head: 'Code', cell: ({ found }) => <code>{found.code}</code> },
              { head: 'Kind', cell: ({ found }) => inWords(found.kind) },
              { head: 'What it is', cell: ({ found }) => found.says },
              { head: 'Trace', cell: (candidate) => <Choose candidate={candidate} question={question} /> },
            ]}
            empty={<NothingFound text={text} />}
          />
        </section>
      )}
    </Answered>
  );
}

const NothingFound = ({ text }: { text: string }) => (
  <Empty>
    <p>
      Nothing in the record has <code>{text}</code> in its code. Codes count as they are written, zeros and all. A supplier’s lot is found
      by the code the supplier printed on it; if the goods were never received here, there is nothing to trace.
    </p>
  </Empty>
);

function Choose({ candidate: { origin, instead, found }, question }: { candidate: Candidate; question: Question }) {
  if (origin === null)
    return instead === null ? <span className="quiet">not traced</span> : <Link href={instead.href}>{instead.says}</Link>;
  const start = (from: Origin): string => addressOf({ ...question, origin: from, text: null, chosen: null });
  return (
    <span className="row">
      <Link href={start(origin)}>Trace {found.code}</Link>
      {origin.lot !== undefined && origin.pieces === undefined && hasOrigin(question) ? (
        <Link href={start({ ...question.origin, lots: [...(question.origin.lots ?? []), origin.lot] })}>Add it to this trace</Link>
      ) : null}
    </span>
  );
}
