import type { ImportFile } from '../../../../shared/api/imports.js';
import type { RecordFacts } from '../commands.js';
import type { PlantFact } from '../stock/effects.facts.js';
import { catalogueFacts, lotFacts } from './brought-over.js';
import { linkFacts, shipmentFacts } from './brought-over-uses.js';
import type { Checked } from './check-folder.js';
import { countsOf } from './folder.js';
import type { ImportFinished } from './import.facts.js';
import type { OnProgress } from './read-folder.js';
import { Takings } from './takings.js';

/**
 * Records a checked folder, entry after entry, so that never more than one entry's worth of rows stands in memory as objects.
 * Answers the last entry.
 * @see docs/rules/import.md I-15
 */
export async function writeFolder(
  code: string,
  { lots, uses, states }: Checked,
  record: RecordFacts,
  onProgress: OnProgress,
): Promise<number> {
  const { folder } = lots;
  const takings = new Takings(lots, states);
  const write = async (
    file: ImportFile,
    facts: Iterable<PlantFact> | AsyncIterable<PlantFact>,
    rowsOf: (fact: PlantFact) => number,
  ): Promise<void> => {
    let rows = 0;
    for await (const fact of facts) {
      await record([fact]);
      rows += rowsOf(fact);
      onProgress({ step: 'writing', file, rows });
      await new Promise<void>((resolve) => {
        setImmediate(resolve); // reads of others have their turn between two entries
      });
    }
  };
  await write('items.csv', catalogueFacts(lots), () => folder.items.size);
  await write('lots.csv', lotFacts(code, lots, uses), (fact) => fact.born?.length ?? 0);
  await write('links.csv', linkFacts(code, lots, takings), (fact) =>
    (fact.linked ?? []).reduce((sum, group) => sum + group.links.length, 0),
  );
  await write('shipments.csv', shipmentFacts(code, lots, takings), (fact) => fact.moved?.length ?? 0);
  const finished: ImportFinished = { kind: 'ImportFinished', v: 1, import: code, files: folder.files, counts: countsOf(folder) };
  const [last] = await record([finished]);
  return last!.seq;
}
