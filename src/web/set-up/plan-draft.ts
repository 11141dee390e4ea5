import { AQLS, type Aql, limitsItems } from '../../../shared/sampling/aql.js';
import type { Level } from '../../../shared/sampling/code-letter.js';
import { given } from '../design/form-values.js';
import type { View } from '../wire/client.js';
import type { BodyOf } from '../wire/use-command.js';
import { bodyOfCharacteristic, type DraftCharacteristic, draftOfCharacteristic } from './characteristic-draft.js';

export type Occasion = View<'InspectionPlanView'>['occasions'][number];
export type LimitedClass = 'major' | 'minor';

export const OCCASIONS: readonly { readonly value: Occasion; readonly says: string }[] = [
  { value: 'delivery', says: 'a delivery of it is booked' },
  { value: 'run', says: 'a run that makes it is closed' },
  { value: 'return', says: 'it comes back' },
];
export const CLASSES_WITH_AQL: readonly LimitedClass[] = ['major', 'minor'];

/** A sample as it is typed. */
export interface DraftSampling {
  readonly level: Level;
  readonly type: 'single' | 'double';
  readonly basis: 'items' | 'nonconformities';
  /** Empty: the class is not judged by an AQL. */
  readonly aql: Readonly<Record<LimitedClass, Aql | ''>>;
}

/** An inspection plan as it is typed. */
export interface DraftPlan {
  /** The item it is for. */
  readonly code: string;
  readonly name: string;
  readonly occasions: readonly Occasion[];
  readonly note: string;
  /** Null: only the lot as a whole is tested. */
  readonly sampling: DraftSampling | null;
  readonly characteristics: readonly DraftCharacteristic[];
}

export const USUAL_SAMPLING: DraftSampling = { level: 'II', type: 'single', basis: 'items', aql: { major: '1.0', minor: '4.0' } };

/** The AQLs a basis can have: above 10 they count nonconformities only. */
export const aqlsFor = (basis: DraftSampling['basis']): readonly Aql[] => (basis === 'items' ? AQLS.filter(limitsItems) : AQLS);

/** The classes that are judged by an AQL, in the order in which they are sent. */
export const classesOf = ({ aql, basis }: DraftSampling): { class: LimitedClass; aql: Aql }[] =>
  CLASSES_WITH_AQL.flatMap((of) => {
    const one = aql[of];
    return one !== '' && aqlsFor(basis).includes(one) ? [{ class: of, aql: one }] : [];
  });

/** A plan as it can be typed over; a new one begins with what is usual. */
export function draftOfPlan(plan: View<'InspectionPlanView'> | null, item = ''): DraftPlan {
  if (plan === null)
    return { code: item, name: '', occasions: ['delivery', 'run', 'return'], note: '', sampling: USUAL_SAMPLING, characteristics: [] };
  const { code, name, occasions, note, sampling, characteristics } = plan;
  const aqlOfClass = (of: LimitedClass): Aql | '' => (sampling?.classes.find((one) => one.class === of)?.aql ?? '') as Aql | '';
  return {
    code,
    name,
    occasions,
    note: note ?? '',
    sampling: sampling && {
      level: sampling.level,
      type: sampling.type as DraftSampling['type'],
      basis: sampling.basis,
      aql: { major: aqlOfClass('major'), minor: aqlOfClass('minor') },
    },
    characteristics: characteristics.map(draftOfCharacteristic),
  };
}

/** What is sent for a draft. Only fields that belong to the kind of characteristic and method go along: others are refused. */
export function bodyOfPlan(draft: DraftPlan): BodyOf<'/api/inspection-plans'> {
  const { sampling } = draft;
  return {
    code: draft.code.trim(),
    name: draft.name.trim(),
    occasions: [...draft.occasions],
    note: given(draft.note),
    sampling:
      sampling === null ? undefined : { level: sampling.level, type: sampling.type, basis: sampling.basis, classes: classesOf(sampling) },
    characteristics: draft.characteristics.map(bodyOfCharacteristic),
  };
}
