import { localOfInstant } from '../app/clock.js';
import { useMe } from '../app/session.js';
import { useDraft } from '../outbox/use-draft.js';
import type { BodyOf } from '../wire/use-command.js';
import type { Asked } from './found-code.js';

/** A serial that was scanned to be fitted, in the order of scanning. */
export interface Gathered {
  readonly serial: string;
  readonly item: string;
  readonly lot: string;
}

/** What an operator is in the middle of charging: kept through a reload, one for each person and run. */
interface ChargeDraft {
  /** What was scanned or typed last. */
  readonly asked: Asked | null;
  /** What was typed over what the page proposed, by field. */
  readonly fields: Readonly<Record<string, string>>;
  /** Serials to be fitted, one unit each. */
  readonly gathered: readonly Gathered[];
}

/** A charge as it was kept without a connection, back in the hands of a person; null where it was of serials, which are scanned again. */
export function draftOfKept(body: BodyOf<'/api/runs/{run}/charges'>): Omit<ChargeDraft, 'gathered'> | null {
  const [charge, more] = body.charges;
  if (charge?.lot === undefined || more !== undefined) return null;
  const { lot, chargedAt, quantity, pieces, unit, step, from, fromPiece, intoPieces, mass, deviationReason } = charge;
  const at = chargedAt === undefined ? undefined : localOfInstant(chargedAt);
  const typed = { quantity, pieces, unit, step, from, fromPiece, intoPieces, mass, deviationReason, chargedAt: at };
  const given = Object.entries(typed).flatMap(([name, value]) => (value === undefined ? [] : [[name, `${value}`] as const]));
  return { asked: { text: lot }, fields: Object.fromEntries(given) };
}

const NOTHING: ChargeDraft = { asked: null, fields: {}, gathered: [] };

export interface ChargeDrafting {
  readonly draft: ChargeDraft;
  /** Begins with another code; what was typed for the one before is dropped. */
  readonly ask: (asked: Asked | null) => void;
  readonly type: (field: string, text: string) => void;
  readonly gather: (more: Gathered) => void;
  readonly drop: (serial: string) => void;
  /** Puts a charge back that was kept and refused. */
  readonly take: (back: Omit<ChargeDraft, 'gathered'>) => void;
  /** Serials are fitted, or given up. */
  readonly emptied: () => void;
}

export function useChargeDraft(run: string): ChargeDrafting {
  const { person } = useMe();
  const [draft, setDraft] = useDraft<ChargeDraft>(`${person} charge ${run}`, NOTHING);
  return {
    draft,
    ask: (asked) => setDraft((before) => ({ ...before, asked, fields: {} })),
    take: (back) => setDraft((before) => ({ ...before, ...back })),
    type: (field, text) => setDraft((before) => ({ ...before, fields: { ...before.fields, [field]: text } })),
    gather: (more) =>
      setDraft((before) => ({
        ...before,
        asked: null,
        fields: {},
        gathered: before.gathered.some(({ serial, item }) => serial === more.serial && item === more.item)
          ? before.gathered
          : [...before.gathered, more],
      })),
    drop: (serial) => setDraft((before) => ({ ...before, gathered: before.gathered.filter((one) => one.serial !== serial) })),
    emptied: () => setDraft((before) => ({ ...before, gathered: [] })),
  };
}
