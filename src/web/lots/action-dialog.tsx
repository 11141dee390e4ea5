import type { ReactNode } from 'react';
import type { SpanSet } from '../../../shared/spans.js';
import { Dialog } from '../design/dialog.js';
import { DecisionForm } from './decision-form.js';
import { HoldForm } from './hold-form.js';
import type { Lot } from './lot.js';
import { CountForm } from './count-form.js';
import { StockForm } from './stock-form.js';
import { UrgentReleaseForm } from './urgent-release-form.js';

export type DecisionName = 'release' | 'non-acceptance' | 'reconsideration';
export type StockName = 'move' | 'scrap' | 'retain' | 'take-back' | 'test' | 'supplier-return';
export type ActionName = DecisionName | StockName | 'hold' | 'urgent-release' | 'count';

/** What every form of an action is given. */
export interface ActionProps {
  readonly lot: Lot;
  readonly selection: SpanSet;
  readonly onClose: () => void;
  /** Says what was done. */
  readonly onDone: (said: ReactNode) => void;
}

const TITLES: Readonly<Record<ActionName, string>> = {
  release: 'Release',
  'non-acceptance': 'Do not accept',
  reconsideration: 'Take the decision back',
  hold: 'Hold',
  'urgent-release': 'Urgent release of',
  move: 'Move',
  count: 'Count',
  scrap: 'Scrap',
  retain: 'Keep a retain sample of',
  'take-back': 'Put a retain sample back of',
  test: 'Destroyed in test:',
  'supplier-return': 'Return to the supplier:',
};

/** The form of an action, over the page of its lot. */
export function ActionDialog({ name, ...props }: ActionProps & { name: ActionName }) {
  return (
    <Dialog title={`${TITLES[name]} ${props.lot.lot}`} onClose={props.onClose}>
      <Form name={name} {...props} />
    </Dialog>
  );
}

function Form({ name, ...props }: ActionProps & { name: ActionName }) {
  if (name === 'hold') return <HoldForm {...props} />;
  if (name === 'urgent-release') return <UrgentReleaseForm {...props} />;
  if (name === 'count') return <CountForm {...props} />;
  if (name === 'release' || name === 'non-acceptance' || name === 'reconsideration') return <DecisionForm name={name} {...props} />;
  return <StockForm name={name} {...props} />;
}
