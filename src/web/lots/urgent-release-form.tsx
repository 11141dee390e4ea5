import type { View } from '../wire/client.js';
import { CommandForm } from '../design/command-form.js';
import { TickField } from '../design/fields.js';
import { Caution } from '../design/page.js';
import type { ActionProps } from './action-dialog.js';
import { isStamped } from './lot.js';
import { PartField } from './part-field.js';

type SetsAside = View<'OpenUrgentReleaseDto'>['setsAside'][number];

const ASIDE: readonly { readonly value: SetsAside; readonly stamp: string; readonly says: string }[] = [
  { value: 'quarantine', stamp: 'QUARANTINE', says: 'That it is in quarantine' },
  { value: 'expired', stamp: 'EXPIRED', says: 'That it is expired' },
  { value: 'held', stamp: 'HELD', says: 'That it is held, itself or by what it was made from' },
];

/** Lets a lot be used although something stands against it: signed, and open until it is closed. */
export function UrgentReleaseForm({ lot, selection, onClose, onDone }: ActionProps) {
  const standing = ASIDE.filter(({ stamp }) => isStamped(lot, stamp));
  return (
    <CommandForm
      path="/api/urgent-releases"
      body={(values) => ({ lot: lot.lot, pieces: values.maybe('/pieces'), setsAside: values.all<SetsAside>('/setsAside') })}
      submit={`Let ${lot.lot} be used`}
      danger
      signs={
        <>
          that <code>{lot.lot}</code>, as named above, may be used and shipped although what is ticked stands against it
        </>
      }
      check={(values) =>
        values.all('/setsAside').length > 0
          ? []
          : [{ code: 'nothing-set-aside', detail: 'Tick what the decision sets aside', pointer: '/setsAside' }]
      }
      onDone={({ urgentRelease }) => onDone(`Urgent release ${urgentRelease} is open until quality closes it.`)}
      onCancel={onClose}
    >
      <Caution>
        <p>Everything made from it is marked until the urgent release is closed, and its shipments stay listed with it for good.</p>
      </Caution>
      <PartField
        lot={lot}
        selection={selection}
        says="may be used although what is ticked below stands against it"
        wholeIfEmpty
        bulkWhole
      />
      <fieldset className="form">
        <legend>It sets aside</legend>
        {standing.map(({ value, says }, i) => (
          <TickField key={value} name="/setsAside" value={value} label={says} defaultChecked={standing.length === 1 && i === 0} />
        ))}
      </fieldset>
    </CommandForm>
  );
}
