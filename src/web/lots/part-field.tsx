import { type ReactNode, useState } from 'react';
import {
  countPieces,
  formatSpans,
  intersectSpans,
  SpanFault,
  type SpanSet,
  parseSpans,
  subtractSpans,
  wholeLot,
} from '../../../shared/spans.js';
import { parseQuantity } from '../../../shared/quantity.js';
import { writtenCount, writtenPieces } from '../../../shared/written.js';
import { QuantityField, TextField } from '../design/fields.js';
import { type Lot, microOfFate, spansOfFate, wholeMicro } from './lot.js';
import { amount, amountOf, briefPieces, fateWords } from './words.js';

/** What is meant by what stands in the field, or why it cannot be told. */
function read(text: string, pieces: number): { spans: SpanSet } | { wrong: string } {
  try {
    const spans = parseSpans(text);
    const outside = subtractSpans(spans, wholeLot(pieces));
    return outside.length > 0 ? { wrong: `the lot has pieces 1–${writtenCount(pieces)}: there is no ${briefPieces(outside)}` } : { spans };
  } catch (fault) {
    return { wrong: fault instanceof SpanFault ? fault.message : 'not piece numbers' };
  }
}

interface PartFieldProps {
  readonly lot: Lot;
  /** Begins with the pieces selected in the ribbon, or with these when none are. */
  readonly selection: SpanSet;
  readonly otherwise?: SpanSet;
  /** JSON pointer of what the fields stand under. */
  readonly under?: string;
  /** Left empty it is the whole lot. */
  readonly wholeIfEmpty?: boolean;
  /** Says what will be done to a part, as `will be scrapped`. */
  readonly says: string;
  /** The fates that a part can be taken from, where that matters. */
  readonly from?: readonly string[];
  /** For decisions that are on all of a bulk lot. */
  readonly bulkWhole?: boolean;
}

/** Which part of the lot: piece numbers or a quantity, and in words what will be done to how much. */
export function PartField(props: PartFieldProps) {
  return props.lot.pieces === null ? <BulkField {...props} /> : <PiecesField {...props} pieces={props.lot.pieces} />;
}

function PiecesField({
  lot,
  pieces,
  selection,
  otherwise = [],
  under = '',
  wholeIfEmpty = false,
  says,
  from,
}: PartFieldProps & { pieces: number }) {
  const [text, setText] = useState(formatSpans(selection.length > 0 ? selection : otherwise));
  const empty = text.trim() === '';
  const meant = empty ? { spans: wholeIfEmpty ? wholeLot(pieces) : [] } : read(text, pieces);
  const there = spansOfFate(lot, ...(from ?? []));
  const gone = from !== undefined && 'spans' in meant ? subtractSpans(meant.spans, there) : [];
  return (
    <>
      <TextField
        name={`${under}/pieces`}
        label="Pieces"
        code
        value={text}
        onChange={(event) => setText(event.target.value)}
        required={!wholeIfEmpty}
        hint={`as 5-17,40${wholeIfEmpty ? '; empty is the whole lot' : ''}`}
      />
      <Will>
        {'wrong' in meant ? (
          <span className="urgent">{meant.wrong}</span>
        ) : countPieces(meant.spans) === 0 ? (
          `Name the pieces that ${says}.`
        ) : (
          <>
            <strong>{writtenPieces(countPieces(meant.spans))}</strong> of {writtenCount(pieces)} of <code>{lot.lot}</code>
            {countPieces(meant.spans) < pieces ? ` (${briefPieces(meant.spans)})` : ''} {says}.
            {countPieces(gone) > 0 ? (
              <>
                {' '}
                <span className="urgent">
                  {writtenPieces(countPieces(gone))} of these are not {from?.map(fateWords).join(' or ')}.
                </span>{' '}
                <button type="button" className="plain" onClick={() => setText(formatSpans(intersectSpans(meant.spans, there)))}>
                  Only those that are
                </button>
              </>
            ) : null}
          </>
        )}
      </Will>
    </>
  );
}

function BulkField({ lot, under = '', wholeIfEmpty = false, says, from, bulkWhole = false }: PartFieldProps) {
  const [text, setText] = useState('');
  const typed = /^\d+(\.\d{1,6})?$/u.test(text.trim()) ? amountOf(text.trim(), lot.unit) : null;
  const there = from === undefined ? wholeMicro(lot) : microOfFate(lot, ...from);
  const tooMuch = from !== undefined && typed !== null && microTyped(text) > there;
  if (bulkWhole) {
    return (
      <Will>
        <strong>All of it</strong>, {amount(wholeMicro(lot), lot.unit)} of <code>{lot.lot}</code>, {says}.
      </Will>
    );
  }
  return (
    <>
      <QuantityField
        name={`${under}/quantity`}
        label="Quantity"
        unit={lot.unit}
        value={text}
        onChange={(event) => setText(event.target.value)}
        required={!wholeIfEmpty}
        hint={wholeIfEmpty ? 'empty is the whole lot' : undefined}
      />
      <Will>
        {typed === null && !(wholeIfEmpty && text.trim() === '') ? (
          `Say how much ${says}.`
        ) : (
          <>
            <strong>{typed ?? 'All'}</strong> of {amount(there, lot.unit)}{' '}
            {from === undefined ? '' : `${from.map(fateWords).join(' or ')} `}
            of <code>{lot.lot}</code> {says}.{tooMuch ? <span className="urgent"> There is not that much.</span> : null}
          </>
        )}
      </Will>
    </>
  );
}

/** More than can be kept exactly is more than there is. */
function microTyped(text: string): number {
  try {
    return parseQuantity(text.trim());
  } catch {
    return Number.MAX_SAFE_INTEGER;
  }
}

/** What a step will do, and to how much, said before it is done. */
export function Will({ children }: { children: ReactNode }) {
  return (
    <p className="will" role="status">
      {children}
    </p>
  );
}
