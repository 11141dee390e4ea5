import { useState } from 'react';
import { writtenCount } from '../../../shared/written.js';
import { CONFORMING_KEY, keyOfFinding, SAME_ITEM_KEY } from './tally-keys.js';
import { CLASSES, type Finding } from './tally-state.js';
import type { Piece } from './use-piece.js';

interface Props {
  readonly findings: readonly Finding[];
  readonly keys: boolean;
  readonly onKeys: (on: boolean) => void;
  /** Items that the sample still has room for. */
  readonly room: number;
  readonly sameItem: boolean;
  /** Null where the last press was no item. */
  readonly onSameItem: (() => void) | null;
  readonly onConforming: (count: number) => void;
  readonly onFinding: (finding: Finding) => void;
  /** Null: a bulk lot has no pieces. */
  readonly piece: Piece | null;
}

/** Very large buttons for gloves, with the key of each on it: conforming first, then every finding by class, worst first. */
export function TallyButtons({ findings, keys, onKeys, room, sameItem, onSameItem, onConforming, onFinding, piece }: Props) {
  const full = room <= 0;
  return (
    <div className="tally">
      <div className="row end before-press">
        {piece === null ? null : <PieceOfNext piece={piece} />}
        <Several room={room} onConforming={onConforming} />
        <label className="check">
          <input type="checkbox" checked={keys} onChange={(event) => onKeys(event.target.checked)} /> Keys count too
        </label>
      </div>
      <button type="button" className="press conforming" disabled={full} onClick={() => onConforming(1)}>
        <span>
          Conforming <small>{full ? 'the sample is full' : `${writtenCount(room)} left to look at`}</small>
        </span>
        <Key of={keys ? CONFORMING_KEY : null} />
      </button>
      {CLASSES.map((of) => (
        <Group key={of} of={of} {...{ findings, keys, onFinding }} full={full && !sameItem} />
      ))}
      <button type="button" className="press same" aria-pressed={sameItem} disabled={onSameItem === null} onClick={() => onSameItem?.()}>
        <span>
          Next finding is on the same item <small>for an item with more than one thing wrong</small>
        </span>
        <Key of={keys ? SAME_ITEM_KEY : null} />
      </button>
    </div>
  );
}

const HEADS = {
  critical: { says: 'Critical', means: 'can hurt somebody: one holds the lot' },
  major: { says: 'Major', means: 'fails its purpose' },
  minor: { says: 'Minor', means: 'hardly matters' },
} as const;

function Group({
  of,
  findings,
  keys,
  full,
  onFinding,
}: Pick<Props, 'findings' | 'keys' | 'onFinding'> & { of: Finding['class']; full: boolean }) {
  const own = findings.map((finding, at) => ({ finding, at })).filter(({ finding }) => finding.class === of);
  if (own.length === 0) return null;
  return (
    <div className={`press-group ${of}`} role="group" aria-label={`${HEADS[of].says}: ${HEADS[of].means}`}>
      <h3>
        {HEADS[of].says} <small className="quiet">{HEADS[of].means}</small>
      </h3>
      <div className="presses">
        {own.map(({ finding, at }) => (
          <button
            type="button"
            key={`${finding.characteristic} ${finding.defect}`}
            className="press"
            disabled={full}
            onClick={() => onFinding(finding)}
          >
            <span>
              {finding.says} <small>{[finding.characteristic, finding.defect].filter(Boolean).join(' · ')}</small>
            </span>
            <Key of={keys ? keyOfFinding(at) : null} />
          </button>
        ))}
      </div>
    </div>
  );
}

const Key = ({ of }: { of: string | null }) => (of === null ? null : <kbd>{of.toUpperCase()}</kbd>);

function PieceOfNext({ piece }: { piece: Piece }) {
  return (
    <div className="field">
      <label htmlFor="piece-of-next">Piece or serial of the next item</label>
      <input
        id="piece-of-next"
        className="code"
        autoComplete="off"
        spellCheck={false}
        value={piece.text}
        aria-describedby="piece-says"
        aria-invalid={piece.faulty}
        onChange={(event) => piece.type(event.target.value)}
        onBlur={() => piece.look()}
        onKeyDown={(event) => {
          if (event.key === 'Enter') piece.look();
        }}
      />
      <span id="piece-says" className={piece.faulty ? 'fault' : 'hint'}>
        {piece.says || 'may be left out; a scan fills it'}
      </span>
    </div>
  );
}

/** Many conforming items are counted with one number. */
function Several({ room, onConforming }: { room: number; onConforming: (count: number) => void }) {
  const [text, setText] = useState('');
  const count = /^\d{1,6}$/u.test(text) ? Number(text) : 0;
  const fits = count > 0 && count <= room;
  const fault =
    text.trim() === '' || fits ? null : count > room ? `only ${room} left in the sample` : 'a whole number, of one item or more';
  return (
    <form
      className="row end"
      aria-label="Several conforming at once"
      onSubmit={(event) => {
        event.preventDefault();
        if (!fits) return;
        onConforming(count);
        setText('');
      }}
    >
      <div className="field several">
        <label htmlFor="several">Several conforming at once</label>
        <input
          id="several"
          inputMode="numeric"
          autoComplete="off"
          value={text}
          aria-invalid={fault !== null}
          aria-describedby="several-says"
          onChange={(event) => setText(event.target.value)}
        />
        <span id="several-says" className={fault === null ? 'hint' : 'fault'}>
          {fault ?? `at most ${Math.max(0, room)}`}
        </span>
      </div>
      <button type="submit" disabled={!fits}>
        Count {fits ? writtenCount(count) : 'them'}
      </button>
    </form>
  );
}
