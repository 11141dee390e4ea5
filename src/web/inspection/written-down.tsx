import { useState } from 'react';
import { localWritten } from '../app/clock.js';
import { CommandForm } from '../design/command-form.js';
import { Dialog } from '../design/dialog.js';
import { TextAreaField } from '../design/fields.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Section } from '../design/page.js';
import { Thumbs } from '../design/photographs.js';
import { Refer } from '../design/refer.js';
import type { View } from '../wire/client.js';
import { writtenItems } from './words.js';

type Inspection = View<'InspectionView'>;
type Tally = View<'TallyView'>;

/** Every tally that was written down, by whom, and those taken back with their reason. */
export function WrittenDown({ of, may }: { of: Inspection; may: boolean }) {
  const [taking, setTaking] = useState<Tally | null>(null);
  if (of.sample === null || of.tallies.length === 0) return null;
  return (
    <Section title="Written down" note="several inspectors may tally one lot; their tallies stand beside each other">
      <LedgerTable
        caption="Tallies"
        rows={of.tallies.toReversed()}
        rowKey={({ tally }) => `${tally}`}
        columns={[
          { head: 'Tally', num: true, cell: ({ tally }) => tally },
          { head: 'When', cell: ({ at }) => localWritten(at) },
          { head: 'Who', cell: ({ by }) => <code>{by}</code> },
          ...(of.sample.second === null ? [] : [{ head: 'Sample', cell: ({ sample }: Tally) => (sample === 1 ? 'first' : 'second') }]),
          { head: 'Conforming', num: true, cell: ({ conforming }) => conforming },
          { head: 'Items written down one by one', cell: (tally) => <Items of={tally} /> },
          { head: 'Counts', cell: (tally) => <Counts tally={tally} may={may} onTakeBack={() => setTaking(tally)} /> },
          { head: 'Entry', num: true, cell: ({ seq }) => <Refer kind="entry" code={`${seq}`} /> },
        ]}
      />
      {taking === null ? null : <TakeBack of={of} tally={taking} onClose={() => setTaking(null)} />}
    </Section>
  );
}

function Items({ of: { tally, items } }: { of: Tally }) {
  if (items.length === 0) return <>none</>;
  return (
    <ul className="tally-items">
      {items.map((item, at) => (
        // A tally never changes, so its items keep their places.
        // oxlint-disable-next-line react/no-array-index-key
        <li key={at}>
          {item.piece === null ? '' : `piece ${item.piece}: `}
          {[...item.found.map(foundInWords), ...item.measured.map(measuredInWords)].join('; ')}
          {item.note === null ? '' : ` (${item.note})`}
          <Thumbs files={item.files} of={`tally ${tally}, item ${at + 1}`} />
        </li>
      ))}
    </ul>
  );
}

const foundInWords = ({ class: of, count, defect, characteristic }: View<'FoundView'>): string =>
  `${of} ${defect ?? characteristic ?? ''}${count > 1 ? ` × ${count}` : ''}`;

const measuredInWords = ({ characteristic, value, unit, within, instrument }: View<'MeasuredView'>): string =>
  `${characteristic} ${value} ${unit}, ${within ? 'within' : 'outside'} its limits${instrument === null ? '' : `, with ${instrument}`}`;

function Counts({ tally, may, onTakeBack }: { tally: Tally; may: boolean; onTakeBack: () => void }) {
  if (tally.takenBack !== null) return <span className="quiet">taken back: {tally.takenBack}</span>;
  if (!may) return <>counts</>;
  return (
    <button type="button" onClick={onTakeBack} aria-label={`Take back tally ${tally.tally}`}>
      Take back
    </button>
  );
}

function TakeBack({ of, tally, onClose }: { of: Inspection; tally: Tally; onClose: () => void }) {
  const { inspection } = of;
  const items = writtenItems(tally.conforming + tally.items.length);
  return (
    <Dialog title={`Take tally ${tally.tally} back`} onClose={onClose}>
      <p>
        {items} of {tally.by} count no more: {tally.conforming} conforming, {tally.items.length} written down one by one. The tally stays
        readable, with your reason.
      </p>
      <CommandForm
        path="/api/inspections/{inspection}/tallies/{tally}/taken-back"
        address={{ inspection, tally: tally.tally }}
        body={(values) => ({ reason: values.text('/reason') })}
        submit={`Take back ${items}`}
        danger
        onDone={onClose}
        onCancel={onClose}
      >
        <TextAreaField name="/reason" label="What was wrong with it" required rows={2} />
      </CommandForm>
    </Dialog>
  );
}
