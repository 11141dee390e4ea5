import { isDouble, type Plan } from '../../../shared/sampling/plan.js';
import { onWholeLot } from '../../../shared/sampling/on-whole-lot.js';
import { sharedSample } from '../../../shared/sampling/shared-sample.js';
import { writtenCount } from '../../../shared/written.js';
import { classesOf, type DraftSampling, type LimitedClass } from './plan-draft.js';

/** What a plan takes from a lot of a size under normal inspection, and how it judges each class. */
export interface Preview {
  readonly lotSize: number;
  readonly codeLetter: string;
  readonly take: string;
  readonly classes: readonly { readonly class: LimitedClass; readonly aql: string; readonly numbers: string }[];
  /** Why it is so, where it is not simply the plan at the code letter. */
  readonly because: readonly string[];
}

/** Null where no class has an AQL to judge by. */
export function previewOf(sampling: DraftSampling, lotSize: number): Preview | null {
  const classes = classesOf(sampling);
  if (classes.length === 0) return null;
  const { level, type } = sampling;
  const sample = sharedSample({ lotSize, level, type, classes: classes.map(({ aql }) => ({ aql, severity: 'normal' as const })) });
  const judged = sample.classes.map((one) => onWholeLot(one, sample.inspectAll, lotSize));
  const [first, second] = sample.sizes;
  return {
    lotSize,
    codeLetter: sample.codeLetter,
    take: sample.inspectAll
      ? `all ${writtenCount(lotSize)}`
      : `${writtenCount(first)}${second === null ? '' : `, then ${writtenCount(second)}`}`,
    classes: judged.map(({ plan, aql }, i) => ({ class: classes[i]!.class, aql, numbers: numbersOf(plan) })),
    because: [
      ...(sample.inspectAllBecause === null ? [] : [sample.inspectAllBecause]),
      ...judged.flatMap(({ because, unverified }, i) =>
        [...because, ...(unverified === null ? [] : [unverified])].map((why) => `${classes[i]!.class}: ${why}`),
      ),
    ],
  };
}

function numbersOf(plan: Plan): string {
  if (!isDouble(plan)) return `${plan.ac} / ${plan.re}`;
  return `${plan.ac1} / ${plan.re1}, both ${plan.ac2} / ${plan.re2}`;
}
