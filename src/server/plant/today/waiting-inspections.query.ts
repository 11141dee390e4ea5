import { inspectionQueue } from '../inspection/inspection-view.query.js';
import { instrumentList } from '../instruments/instruments.query.js';
import type { InstrumentStateView } from '../instruments/instruments.dto.js';
import { addDays } from '../../../../shared/time.js';
import type { Ground } from './ground.js';
import { dayWords, waited, type Waiting } from './waiting.js';

/** Inspections that wait to begin or are under way. */
export async function inspectionsWaiting({ from, now, nameOf }: Ground): Promise<Waiting[]> {
  const lines = await inspectionQueue(from, {});
  return lines.map((line): Waiting => {
    const begun = line.state === 'begun';
    const size = line.lotSize === null ? '' : `${line.lotSize} of `;
    const source = line.supplier === null ? '' : ` from ${line.supplier}`;
    const urgent = line.urgent === null ? '' : `; urgent: ${line.urgent}`;
    return {
      kind: 'inspection',
      code: line.inspection,
      lot: line.lot,
      item: line.item,
      since: line.openedAt,
      by: ['inspector', 'quality'],
      says: `${size}${nameOf(line.item)}${source}, ${begun ? 'under way' : 'waiting'} ${waited(line.openedAt, now)}${urgent}`,
      step: { label: begun ? 'Go on with the inspection' : 'Begin the inspection', place: 'inspection', code: line.inspection },
    };
  });
}

/** Days before an instrument is due at which it is worth knowing. */
const DUE_SOON_DAYS = 14;

/** Instruments in use that are due soon, that no calibration lets be used, or that are in doubt. */
export async function instrumentsWaiting({ from, now, today }: Ground): Promise<Waiting[]> {
  const soon = addDays(today, DUE_SOON_DAYS);
  const lines = await instrumentList(from, now);
  return lines
    .filter((one) => one.use === 'in-use' && (!one.usable || one.openQuestions.length > 0 || (one.dueOn !== null && one.dueOn <= soon)))
    .map((one): Waiting => ({
      kind: 'instrument',
      code: one.code,
      lot: null,
      item: null,
      since: one.lastCalibratedAt ?? now,
      due: one.dueOn,
      by: one.openQuestions.length > 0 ? ['quality'] : ['inspector', 'quality'],
      overdue: one.dueOn !== null && one.dueOn < today,
      says: `${one.name}: ${instrumentWords(one, today)}`,
      step: {
        label: one.openQuestions.length > 0 ? 'Answer what it has judged' : 'Record its calibration',
        place: 'instrument',
        code: one.code,
      },
    }));
}

function instrumentWords({ openQuestions, why, dueOn }: InstrumentStateView, today: string): string {
  if (openQuestions.length > 0) return `what it judged is in doubt by ${openQuestions.join(', ')}`;
  return why?.detail ?? `calibration due ${dueOn === null ? 'now' : dayWords(dueOn, today)}`;
}
