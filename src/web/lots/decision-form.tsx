import { CommandForm } from '../design/command-form.js';
import type { ActionProps, DecisionName } from './action-dialog.js';
import { spansStamped } from './lot.js';
import { PartField } from './part-field.js';

const DECISIONS = {
  release: {
    path: '/api/lots/{lot}/release',
    stamped: ['QUARANTINE'],
    says: 'will be released for use and shipment',
    submit: 'Release',
    meaning: 'that you have reviewed the record of',
    so: 'and release it for use and shipment',
    done: 'released',
  },
  'non-acceptance': {
    path: '/api/lots/{lot}/non-acceptance',
    stamped: ['QUARANTINE'],
    says: 'will not be accepted: it can be neither used nor shipped',
    submit: 'Do not accept',
    meaning: 'that',
    so: 'is not accepted',
    done: 'not accepted',
  },
  reconsideration: {
    path: '/api/lots/{lot}/reconsideration',
    stamped: ['RELEASED', 'NOT ACCEPTED'],
    says: 'will go back into quarantine; what was used or shipped of it stays so',
    submit: 'Put back in quarantine',
    meaning: 'that the earlier decision on',
    so: 'is taken back, into quarantine',
    done: 'back in quarantine',
  },
} as const satisfies Record<DecisionName, object>;

/** A quality decision, signed: on the pieces named or on the whole lot. */
export function DecisionForm({ name, lot, selection, onClose, onDone }: ActionProps & { name: DecisionName }) {
  const { path, stamped, says, submit, meaning, so, done } = DECISIONS[name];
  const otherwise = stamped.map((word) => spansStamped(lot, word)).find((spans) => spans.length > 0) ?? [];
  return (
    <CommandForm
      path={path}
      address={{ lot: lot.lot }}
      body={(values) => ({ pieces: values.maybe('/pieces') })}
      submit={`${submit} ${lot.lot}`}
      danger={name === 'non-acceptance'}
      signs={
        <>
          {meaning} <code>{lot.lot}</code>, {lot.itemName}, as named above, {so}
        </>
      }
      onDone={() => onDone(`${lot.lot}: ${done}. The stamps show it.`)}
      onCancel={onClose}
    >
      <PartField lot={lot} selection={selection} otherwise={otherwise} says={says} wholeIfEmpty bulkWhole />
      {name === 'release' ? (
        <p className="quiet">
          Whoever made or booked the lot cannot alone release it. An item with an inspection plan is released after an inspection that
          accepted it.
        </p>
      ) : null}
    </CommandForm>
  );
}
