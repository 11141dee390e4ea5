import { MICRO } from '../../../shared/quantity.js';
import type { Amounts, RecallReport } from './recall-report.types.js';
import type { Block } from './sheet.model.js';
import { writtenDate, writtenPieces, writtenQuantity } from '../../../shared/written.js';

/** How much there is to call back, and where it stands: the amounts that an authority asks for first, by unit. They add up. */
export function recallAmounts({ amounts }: RecallReport): Block[] {
  if (amounts.length === 0) return [];
  return [
    { kind: 'heading', level: 2, text: 'Amounts', note: 'Goods that leave the plant: filled, assembled, or sent out at all.' },
    ...amounts.map((each): Block => ({ kind: 'facts', facts: factsOf(each) })),
  ];
}

function factsOf(amounts: Amounts): { label: string; value: string }[] {
  const { totalMicro, distributedMicro, onHandMicro, onHandStoppedMicro, inMarketMicro } = amounts;
  const written = (micro: number): string =>
    amounts.unit === 'pieces' ? writtenPieces(micro / MICRO) : writtenQuantity(micro, amounts.unit);
  return [
    { label: 'To be recalled', value: `${written(totalMicro)}${during(', made', amounts.madeFrom, amounts.madeUntil)}` },
    {
      label: 'Sent to customers',
      value: `${written(distributedMicro)}${during(', sent', amounts.distributedFrom, amounts.distributedUntil)}`,
    },
    { label: 'Left in the market', value: written(inMarketMicro) },
    { label: 'Still held here', value: `${written(onHandMicro)}${heldHow(onHandMicro, onHandStoppedMicro, written)}` },
    { label: 'Used or disposed of', value: written(totalMicro - inMarketMicro - onHandMicro) },
  ];
}

function heldHow(onHandMicro: number, stoppedMicro: number, written: (micro: number) => string): string {
  if (onHandMicro === 0) return '';
  if (stoppedMicro === onHandMicro) return ', all of it in quarantine or on hold';
  if (stoppedMicro === 0) return ', none of it in quarantine or on hold';
  return `, ${written(stoppedMicro)} of it in quarantine or on hold`;
}

function during(what: string, from: string | null, until: string | null): string {
  if (from === null || until === null) return '';
  return from === until ? `${what} on ${writtenDate(from)}` : `${what} from ${writtenDate(from)} to ${writtenDate(until)}`;
}
