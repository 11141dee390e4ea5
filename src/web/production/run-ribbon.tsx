import { useMemo, useState } from 'react';
import type { SpanSet } from '../../../shared/spans.js';
import { writtenPieces } from '../../../shared/written.js';
import { useMay } from '../app/session.js';
import { Empty, Section } from '../design/page.js';
import { Ribbon } from '../pictures/ribbon.js';
import { ChangeoverForm } from './changeover-form.js';
import { piecesOf, ribbonOfRun } from './ribbon-of-run.js';
import type { Run } from './run.js';

/** Which pieces hold what, and where lots change over. While it runs, a piece picked on the ribbon is where a lot comes into use. */
export function RunRibbon({ run }: { run: Run }) {
  const pieces = piecesOf(run);
  const [selection, setSelection] = useState<SpanSet>([]);
  const [trying, setTrying] = useState<{ item: string; lot: string; fromPiece: number } | null>(null);
  const maySet = useMay('operator', 'administrator') && run.state === 'open';
  const input = useMemo(() => ribbonOfRun(run, trying === null ? [] : [trying]), [run, trying]);
  if (pieces === 0 || input.below.length === 0) {
    return (
      <Section title="Which pieces hold what">
        <Empty>
          <p>
            Once something is charged and it is known how many pieces are planned, this is their ribbon: which lot of each component is in
            which piece.
          </p>
        </Empty>
      </Section>
    );
  }
  return (
    <Section
      title="Which pieces hold what"
      note={
        run.yields
          ? `${writtenPieces(pieces)} were made`
          : `${writtenPieces(pieces)} are planned; a lot is in use from its changeover to the next`
      }
      id="ribbon"
    >
      <Ribbon input={input} label={run.lot ?? run.run} selection={selection} {...(maySet ? { onSelect: setSelection } : {})} />
      {maySet ? <ChangeoverForm run={run} picked={selection[0]?.[0] ?? null} onTry={setTrying} /> : null}
    </Section>
  );
}
