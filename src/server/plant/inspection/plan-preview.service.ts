import { Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { Reader } from '../../platform/database/reader.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { samplePlan } from './begin.decide.js';
import { sampleView } from './inspection-view.query.js';
import type { PlanPreviewView } from './plan-preview.dto.js';

/** What a plan takes from a lot of a size, before there is one. */
@Injectable()
export class PlanPreviewService {
  constructor(private readonly reader: Reader) {}

  /** @see docs/rules/inspection-plans.md IP-11 */
  async preview(item: string, lotSize: number): Promise<PlanPreviewView> {
    const plan = (await catalogueByCode(this.reader.manager, 'inspection-plan', [item])).get(item);
    if (!plan) throw new Refusal('unknown', [{ code: 'inspection-plan-unknown', detail: `no inspection plan of ${item}`, item }]);
    const sample = plan.sampling === undefined ? null : samplePlan(plan.sampling, lotSize, () => 'normal');
    return {
      item,
      planRevision: plan.revision,
      lotSize,
      severity: 'normal',
      sample: sample && sampleView(sample),
      classes: (sample?.classes ?? []).map(({ class: of, aql, plan: numbers, because, unverified }) => ({
        class: of,
        aql,
        plan: numbers,
        because: [...because],
        unverified,
      })),
    };
  }
}
