import { useState } from 'react';
import { MICRO, parseQuantity } from '../../../shared/quantity.js';
import { coversSpans, countPieces, intersectSpans, subtractSpans } from '../../../shared/spans.js';
import type { Reason } from '../../../shared/refusal.js';
import { writtenPieces, writtenSpans } from '../../../shared/written.js';
import { CodeField } from '../design/code-field.js';
import { CommandForm } from '../design/command-form.js';
import { ChoiceField, QuantityField, TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import { Caution } from '../design/page.js';
import { server, type View } from '../wire/client.js';
import { amount, piecesWritten } from './amounts.js';
import { readSpans } from './parts.js';
import { PiecesDialog } from './pieces-dialog.js';
import type { Disposed, Report } from './report-parts.js';
import { type DispositionKind, KINDS, kindWords } from './words.js';

type Account = View<'AccountView'>;
interface Asked {
  readonly kind: string;
  readonly micro: number;
  readonly lot: string;
}

const AUTHORITIES = [
  { value: 'customer', says: 'The customer' },
  { value: 'design-authority', says: 'The design authority' },
  { value: 'quality', says: 'Quality' },
];

/** Proposes what becomes of a part; the bar above shows it to scale while it is typed, and more than is left is refused. */
export function ProposeForm({
  report,
  disposed,
  onAsked,
  folded,
}: {
  report: Report;
  disposed: Disposed;
  onAsked: (asked: Asked | null) => void;
  folded: boolean;
}) {
  const [open, setOpen] = useState(!folded);
  if (!open) {
    return (
      <div className="row no-print">
        <button type="button" onClick={() => setOpen(true)}>
          Propose another disposition
        </button>
      </div>
    );
  }
  return <Proposal report={report} disposed={disposed} onAsked={onAsked} />;
}

function Proposal({ report, disposed, onAsked }: { report: Report; disposed: Disposed; onAsked: (asked: Asked | null) => void }) {
  const accounts = disposed.accounts.filter(({ open }) => open !== '0');
  const [lot, setLot] = useState(accounts[0]?.lot ?? '');
  const [kind, setKind] = useState<DispositionKind>('rework');
  const [part, setPart] = useState('');
  const account = accounts.find((one) => one.lot === lot) ?? accounts[0];
  if (account === undefined) return null;
  const show = (nextLot: Account, nextKind: DispositionKind, text: string): void => {
    const micro = askedMicro(nextLot, text);
    onAsked(micro === null ? null : { kind: nextKind, micro, lot: nextLot.lot });
  };
  const changePart = (text: string): void => {
    setPart(text);
    show(account, kind, text);
  };
  return (
    <div className="nc-due-form">
      <h3>Propose a disposition</h3>
      <CommandForm
        path="/api/reports/{report}/dispositions"
        address={{ report: report.report }}
        body={(values) => bodyOf(values, account, kind)}
        check={() => faultsOf(account, part)}
        submit="Propose it"
        onDone={() => onAsked(null)}
      >
        <div className="grid">
          {accounts.length === 1 ? null : (
            <ChoiceField
              name="/lot"
              label="Lot"
              choices={accounts.map((one) => ({ value: one.lot, says: `${one.lot}, ${amount(one.open, one.unit)} undecided` }))}
              value={account.lot}
              onChange={(event) => {
                setLot(event.target.value);
                setPart('');
                onAsked(null);
              }}
            />
          )}
          <ChoiceField
            name="/kind"
            label="Becomes"
            choices={KINDS}
            hint={kindWords(kind).means}
            value={kind}
            onChange={(event) => {
              setKind(event.target.value as DispositionKind);
              show(account, event.target.value as DispositionKind, part);
            }}
          />
          <PartField key={account.lot} account={account} part={part} onPart={changePart} />
        </div>
        <KindCaution kind={kind} critical={report.severity === 'critical'} />
        <TextAreaField name="/reason" label="Why" hint="It is signed with the rest" rows={2} required />
        <KindFields
          kind={kind}
          critical={report.severity === 'critical'}
          item={report.parts.find((one) => one.lot === account.lot)?.item}
        />
      </CommandForm>
    </div>
  );
}

/** How much is typed, in millionths; all that is left where nothing is typed; null while it cannot be read. */
function askedMicro(account: Account, text: string): number | null {
  if (text.trim() === '') return parseQuantity(account.open);
  if (account.openPieces === null) {
    try {
      return parseQuantity(text.trim());
    } catch {
      return null;
    }
  }
  const spans = readSpans(text);
  return spans === null ? null : countPieces(spans) * MICRO;
}

/** More than is left is refused here already, with what is too much. */
function faultsOf(account: Account, text: string): Reason[] {
  if (text.trim() === '') return [];
  const pieces = account.openPieces;
  const no = (detail: string): Reason[] => [{ code: 'more-than-left', detail, pointer: pieces === null ? '/quantity' : '/pieces' }];
  if (pieces === null) {
    const micro = askedMicro(account, text);
    return micro !== null && micro > parseQuantity(account.open) ? no(`Only ${amount(account.open, account.unit)} are undecided`) : [];
  }
  const asked = readSpans(text);
  if (asked === null) return no('Pieces are written as 5-17,40');
  const open = readSpans(pieces) ?? [];
  if (coversSpans(open, asked)) return [];
  const over = subtractSpans(asked, intersectSpans(asked, open));
  return no(`${writtenSpans(over)}: not undecided. Undecided are ${piecesWritten(pieces)}`);
}

function PartField({ account, part, onPart }: { account: Account; part: string; onPart: (text: string) => void }) {
  const [choosing, setChoosing] = useState(false);
  if (account.openPieces === null) {
    return (
      <QuantityField
        name="/quantity"
        label="How much"
        unit={account.unit}
        hint={`Left empty: all ${amount(account.open, account.unit)} that are undecided`}
        value={part}
        onChange={(event) => onPart(event.target.value)}
      />
    );
  }
  const spans = readSpans(part);
  return (
    <div>
      <TextField
        name="/pieces"
        label="Pieces"
        code
        hint={
          spans !== null && spans.length > 0
            ? writtenPieces(countPieces(spans))
            : `Left empty: all ${amount(account.open, account.unit)} that are undecided, ${piecesWritten(account.openPieces)}`
        }
        value={part}
        onChange={(event) => onPart(event.target.value)}
      />
      <button type="button" className="plain" onClick={() => setChoosing(true)}>
        Choose on the ribbon
      </button>
      {choosing ? <PiecesDialog lot={account.lot} spans={spans ?? []} onPieces={onPart} onClose={() => setChoosing(false)} /> : null}
    </div>
  );
}

function KindCaution({ kind, critical }: { kind: DispositionKind; critical: boolean }) {
  if (kind === 'concession') {
    return (
      <Caution>
        <p>
          <strong>Used as is, it stays nonconforming.</strong>{' '}
          {critical
            ? 'This nonconformity is critical: the customer or the design authority must authorise it, and two people sign.'
            : 'Whoever authorises it answers for it, up to this quantity and this day; the pieces stay marked.'}
        </p>
      </Caution>
    );
  }
  if (kind === 'repair') {
    return (
      <Caution>
        <p>
          <strong>Repaired, it still does not meet the requirement.</strong> Two functions sign; it is inspected again before it goes.
        </p>
      </Caution>
    );
  }
  if (kind === 'scrap') {
    return (
      <Caution>
        <p>Scrapped goods do not come back. Make them unusable, and keep the paper that shows it.</p>
      </Caution>
    );
  }
  return null;
}

/** Only what is kept like it can become of it. */
function RegradeField({ item }: { item: string | undefined }) {
  const { data } = server.useQuery('get', '/api/items', {}, { staleTime: 60_000 });
  const own = data?.find(({ code }) => code === item);
  const choices = (data ?? []).filter(
    (one) => own === undefined || (one.code !== own.code && one.unit === own.unit && one.tracking === own.tracking),
  );
  return (
    <CodeField
      name="/regradeTo"
      label="Item it becomes"
      hint={own?.tracking === 'serial' ? 'what is known by its serials stays what it is' : 'kept in the same unit and in the same way'}
      choices={own?.tracking === 'serial' ? [] : choices.map(({ code, name }) => ({ code, says: name }))}
      required
    />
  );
}

function KindFields({ kind, critical, item }: { kind: DispositionKind; critical: boolean; item: string | undefined }) {
  if (kind === 'rework' || kind === 'repair') {
    return (
      <TextAreaField
        name="/adverseEffect"
        label="Any adverse effect of doing it"
        hint="Say so also where there is none"
        rows={2}
        required
      />
    );
  }
  if (kind === 'regrade') return <RegradeField item={item} />;
  if (kind !== 'concession') return null;
  return (
    <div className="grid">
      <ChoiceField name="/concession/authority" label="By authority of" choices={critical ? AUTHORITIES.slice(0, 2) : AUTHORITIES} />
      <TextField name="/concession/authorisedBy" label="Authorised by" hint="Who of them" required />
      <TextField name="/concession/reference" label="Reference" hint="The letter or order it stands in" required />
      <TextField name="/concession/until" label="Last day" type="date" required />
    </div>
  );
}

function bodyOf(values: FormValues, account: Account, kind: DispositionKind): Omit<View<'ProposeDispositionDto'>, 'commandId'> {
  const whole = values.maybe('/pieces') === undefined && values.maybe('/quantity') === undefined;
  return {
    kind,
    lot: account.lot,
    pieces: whole ? (account.openPieces ?? undefined) : values.maybe('/pieces'),
    quantity: whole && account.openPieces === null ? account.open : values.maybe('/quantity'),
    reason: values.text('/reason'),
    adverseEffect: values.maybe('/adverseEffect'),
    regradeTo: values.maybe('/regradeTo'),
    concession:
      kind !== 'concession'
        ? undefined
        : {
            authority: values.choice('/concession/authority'),
            authorisedBy: values.text('/concession/authorisedBy'),
            reference: values.text('/concession/reference'),
            until: values.text('/concession/until'),
          },
  };
}
