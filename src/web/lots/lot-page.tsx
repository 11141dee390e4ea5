import { useMemo, useState } from 'react';
import { useSearch } from 'wouter';
import { ribbonLotOf, ribbonOfLot } from '../../../shared/ribbon-of-lot.js';
import type { SpanSet } from '../../../shared/spans.js';
import { writtenCount } from '../../../shared/written.js';
import { Answered } from '../design/answered.js';
import { Entries } from '../design/entries.js';
import { Page, Section } from '../design/page.js';
import { Stamps } from '../design/stamp.js';
import { Ribbon } from '../pictures/ribbon.js';
import { server } from '../wire/client.js';
import { AsKnownAt } from './as-known-at.js';
import { type Lot, whereItIs } from './lot.js';
import { LotActions } from './lot-actions.js';
import { LotBalance } from './lot-balance.js';
import { LotCautions } from './lot-cautions.js';
import { LotDecisions } from './lot-decisions.js';
import { LotDocuments } from './lot-documents.js';
import { LotFiles } from './lot-files.js';
import { LotInspections } from './lot-inspections.js';
import { MadeFrom, WentInto } from './lot-links.js';
import { LotPapers } from './lot-papers.js';
import { LotStory } from './lot-story.js';
import { amount } from './words.js';
import './lots.css';
import './lot-page.css';

/** One lot: what it is, where all of it is, what may be done with it, and everything that is known of it. */
export function LotPage({ lot }: { lot: string }) {
  const at = new URLSearchParams(useSearch()).get('asKnownAt');
  const query = server.useQuery('get', '/api/lots/{lot}', {
    params: { path: { lot }, query: at === null ? {} : { asKnownAt: Number(at) } },
  });
  return (
    <Answered query={query} what={`lot ${lot}`}>
      {(answer) => <Record lot={answer} past={at !== null} />}
    </Answered>
  );
}

function Record({ lot, past }: { lot: Lot; past: boolean }) {
  const [selection, setSelection] = useState<SpanSet>([]);
  const [marked, setMarked] = useState<string | null>(null);
  // What a selection changes nothing about is not drawn anew while somebody drags along the ribbon.
  const where = useMemo(() => <LotBalance lot={lot} />, [lot]);
  const known = useMemo(
    () => (
      <>
        <LotInspections lot={lot} />
        <LotDecisions lot={lot} />
        <LotFiles lot={lot.lot} />
        <LotPapers lot={lot} />
        <LotDocuments lot={lot.lot} unit={lot.unit} />
        <AsKnownAt lot={lot} past={past} />
        <Entries about={{ lot: lot.lot }} />
      </>
    ),
    [lot, past],
  );
  const facts = whereItIs(lot).filter(({ micro }, i) => micro !== 0 || i === 0);
  return (
    <Page
      crumb={`Lot · ${lot.origin} · ${lot.itemName}`}
      title={<span className="code">{lot.lot}</span>}
      name={`Lot ${lot.lot}`}
      stamps={<Stamps stamps={lot.stamps} unit={lot.unit} whole={lot.pieces} />}
      sub={<LotStory lot={lot} />}
      facts={[
        { label: 'All of it', value: amount(allOf(facts), lot.unit, false) },
        ...facts.map(({ says, micro }) => ({ label: says, value: amount(micro, lot.unit, false), warn: says === 'Count difference' })),
      ]}
    >
      <LotCautions lot={lot} past={past} />
      {lot.pieces === null ? null : (
        <RibbonSection lot={lot} selection={selection} onSelect={setSelection} marked={marked} onMark={setMarked} />
      )}
      {past ? null : <LotActions lot={lot} selection={selection} onDone={() => setSelection([])} />}
      {where}
      <MadeFrom lot={lot} selection={selection} marked={marked} onMark={setMarked} />
      <WentInto lot={lot} selection={selection} marked={marked} onMark={setMarked} />
      {known}
    </Page>
  );
}

const allOf = (parts: readonly { readonly micro: number }[]): number => parts.reduce((sum, { micro }) => sum + micro, 0);

function RibbonSection({
  lot,
  selection,
  onSelect,
  marked,
  onMark,
}: {
  lot: Lot;
  selection: SpanSet;
  onSelect: (spans: SpanSet) => void;
  marked: string | null;
  onMark: (code: string | null) => void;
}) {
  const input = useMemo(() => {
    const of = ribbonLotOf(lot);
    return of && ribbonOfLot(of);
  }, [lot]);
  if (input === null) return null;
  return (
    <Section title="Ribbon" note={`which of its ${writtenCount(lot.pieces ?? 0)} pieces came from what, and where they went`}>
      <Ribbon input={input} label={`Lot ${lot.lot}`} selection={selection} onSelect={onSelect} marked={marked} onMark={onMark} />
    </Section>
  );
}
