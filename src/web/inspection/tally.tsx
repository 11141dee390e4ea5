import { useState } from 'react';
import { useMe } from '../app/session.js';
import { Caution, Section } from '../design/page.js';
import { Refused } from '../design/refused.js';
import { useDraft } from '../outbox/use-draft.js';
import { useScan } from '../scan/scans.js';
import { server, type View } from '../wire/client.js';
import { useCommand } from '../wire/use-command.js';
import { LastItem } from './last-item.js';
import { TallyButtons } from './tally-buttons.js';
import { CONFORMING_KEY, findingOfKey, SAME_ITEM_KEY, UNDO_KEY } from './tally-keys.js';
import {
  alsoOnLast,
  bodyOf,
  changeItem,
  conforming,
  type Counts,
  countsOf,
  type Finding,
  findingsOf,
  isItem,
  itemWith,
  lastInWords,
  type Marks,
  undo,
} from './tally-state.js';
import { usePiece } from './use-piece.js';
import { useTallyKeys } from './use-tally-keys.js';
import { writtenItems } from './words.js';
import './tally.css';

type Inspection = View<'InspectionView'>;
const NOTHING: Marks = [];

/** What a person has counted and not written down yet: kept on this device under their name, through a reload or a flat battery. */
export function useTally(inspection: string): [Marks, (next: Marks | ((before: Marks) => Marks)) => void, () => void] {
  const { person } = useMe();
  return useDraft<Marks>(`tally ${inspection} ${person}`, NOTHING);
}

type Tally = ReturnType<typeof useTally>;

/** Counting while inspecting: one press for each item, undone by one press, written down together. */
export function TallySection({ of, tally: [marks, setMarks, clear], kept }: { of: Inspection; tally: Tally; kept: Counts }) {
  const { data: defects } = server.useQuery('get', '/api/defects', {}, { staleTime: 60_000 });
  const { person } = useMe();
  const [sameItem, setSameItem] = useState(false);
  const piece = usePiece(of.lot);
  const [keys, setKeys] = useDraft(`tally keys ${person}`, true);
  const findings = findingsOf(of, defects ?? []);
  const sample = sampleNow(of);
  const counts = countsOf(marks, of.sample?.basis ?? 'items');
  const room = of.toInspect - counts.looked - kept.looked;
  const mark = (finding: Finding): void => {
    const onLast = sameItem && isItem(marks.at(-1));
    if (!onLast && (room <= 0 || piece.faulty)) return;
    setMarks(onLast ? alsoOnLast(marks, finding) : itemWith(marks, finding, piece.piece));
    setSameItem(false);
    if (!onLast) piece.clear();
  };
  const good = (count: number): void => {
    if (count > 0 && count <= room) setMarks(conforming(marks, count));
  };
  useTallyKeys(keys, (key) => {
    const at = findingOfKey(key, findings.length);
    if (key.toLowerCase() === CONFORMING_KEY) good(1);
    else if (key.toLowerCase() === UNDO_KEY) setMarks(undo(marks));
    else if (key.toLowerCase() === SAME_ITEM_KEY) setSameItem(isItem(marks.at(-1)));
    else if (at !== null) mark(findings[at]!);
  });
  useScan((scan, text) => {
    const said = scan.kind === 'gs1' ? scan.serial : scan.kind === 'plain' ? text.trim() : null;
    if (said === null || of.pieces === null) return false;
    piece.look(said);
    return true;
  });
  return (
    <Section
      title="Tally"
      note={
        sample === 2 ? 'second sample' : of.sample?.second === null ? 'one press for each item' : 'first sample, one press for each item'
      }
    >
      <div className="columns tally-columns">
        <TallyButtons
          findings={findings}
          keys={keys}
          onKeys={setKeys}
          room={room}
          sameItem={sameItem}
          onSameItem={isItem(marks.at(-1)) ? () => setSameItem(!sameItem) : null}
          onConforming={good}
          onFinding={mark}
          piece={of.pieces === null ? null : piece}
        />
        <div className="tally-beside">
          <WriteDown of={of} marks={marks} sample={sample} onUndo={() => setMarks(undo(marks))} onDone={clear} />
          <LastItem marks={marks} onChange={(change) => setMarks((before) => changeItem(before, marks.length - 1, change))} />
        </div>
      </div>
    </Section>
  );
}

/** The sample that is counted now: the second once the first is looked at and did not decide. */
export const sampleNow = (of: Inspection): 1 | 2 =>
  of.secondSample && of.sample !== null && (of.inspected[0] ?? 0) >= of.sample.first ? 2 : 1;

/** What is counted goes into the record: together, under one's name. */
function WriteDown({
  of,
  marks,
  sample,
  onUndo,
  onDone,
}: {
  of: Inspection;
  marks: Marks;
  sample: 1 | 2;
  onUndo: () => void;
  onDone: () => void;
}) {
  const { inspection, lot } = of;
  const counts = countsOf(marks, of.sample?.basis ?? 'items');
  const command = useCommand('/api/inspections/{inspection}/tallies', {
    address: { inspection },
    keepAs: () => `Tally of ${writtenItems(counts.looked)} for ${inspection}`,
  });
  const send = async (): Promise<void> => {
    const outcome = await command.run(bodyOf(marks, sample));
    if (!('problem' in outcome)) onDone();
  };
  const critical = counts.byClass.critical > 0;
  return (
    <div className="sheet write-down">
      <h3>Not yet written down</h3>
      <p role="status">
        <strong>{writtenItems(counts.looked)}</strong>: {counts.conforming} conforming, {counts.nonconforming} nonconforming. Last press:{' '}
        {lastInWords(marks)}.
      </p>
      {critical ? (
        <Caution>
          <p>
            A critical nonconformity can hurt somebody. Writing it down holds all of <code>{lot}</code> and everything made from it at once,
            and the lot can only be not accepted. Write it down now; stop using the lot.
          </p>
        </Caution>
      ) : null}
      {command.problem ? <Refused problem={command.problem} /> : null}
      <div className="row">
        <button
          type="button"
          className={critical ? 'danger' : 'primary'}
          disabled={command.busy || marks.length === 0}
          onClick={() => void send()}
        >
          {command.busy ? 'Sending …' : critical ? `Write down and hold ${lot}` : `Write down ${writtenItems(counts.looked)}`}
        </button>
        <button type="button" disabled={marks.length === 0} onClick={onUndo}>
          Undo the last press <kbd>U</kbd>
        </button>
      </div>
      <p className="quiet">
        Kept on this device until it is written down. Once written down, a tally is taken back with a reason and stays readable.
      </p>
    </div>
  );
}
