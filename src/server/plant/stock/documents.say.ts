import { formatQuantity } from '../../../../shared/quantity.js';
import { amountOf, because, type Known, partOf } from '../telling/words.facts.js';
import type {
  DestroyedInTest,
  ReturnedToSupplier,
  SampleRetained,
  SampleTakenBack,
  StockCorrected,
  StockCounted,
  StockMoved,
  StockScrapped,
} from './documents.facts.js';
import type { PlantFact } from './effects.facts.js';

/** What the document moved, as one phrase; the effects list it place by place. */
function movedBy(fact: PlantFact & { readonly lot: string }, known: Known): string {
  const moved = fact.moved ?? [];
  if (moved.length === 1) return partOf(moved[0]!, known);
  return `${amountOf(
    fact.lot,
    moved.reduce((sum, movement) => sum + movement.quantityMicro, 0),
    known,
  )} of ${fact.lot}`;
}

const to = (fact: PlantFact): string => fact.moved?.[0]?.to.at ?? 'where it stood';

export const sayStockDocuments = {
  StockMoved: (fact: StockMoved, known: Known): string =>
    `${fact.document}: ${movedBy(fact, known)} moved to ${to(fact)}${because(fact.reason)}`,
  StockCounted: (fact: StockCounted, known: Known): string => {
    const found = amountOf(fact.lot, fact.countedMicro, known);
    const difference =
      fact.differenceMicro === 0
        ? 'as recorded'
        : `${formatQuantity(Math.abs(fact.differenceMicro))} ${fact.differenceMicro < 0 ? 'less' : 'more'} than recorded`;
    return `${fact.document}: ${found} of ${fact.lot} counted at ${fact.location}, ${difference}${because(fact.reason)}`;
  },
  StockScrapped: (fact: StockScrapped, known: Known): string => `${fact.document}: ${movedBy(fact, known)} scrapped${because(fact.reason)}`,
  SampleRetained: (fact: SampleRetained, known: Known): string =>
    `${fact.document}: ${movedBy(fact, known)} kept as a retain sample${because(fact.reason)}`,
  SampleTakenBack: (fact: SampleTakenBack, known: Known): string =>
    `${fact.document}: ${movedBy(fact, known)} taken back from the retain samples${because(fact.reason)}`,
  DestroyedInTest: (fact: DestroyedInTest, known: Known): string =>
    `${fact.document}: ${movedBy(fact, known)} destroyed in test${because(fact.reason)}`,
  ReturnedToSupplier: (fact: ReturnedToSupplier, known: Known): string =>
    `${fact.document}: ${movedBy(fact, known)} returned to ${fact.supplier} with ${fact.supplierDocument}${because(fact.reason)}`,
  StockCorrected: (fact: StockCorrected): string =>
    `${fact.document}: ${fact.correctsDocument} (entry ${fact.corrects}) was wrong and is undone${because(fact.reason)}`,
};
