import { useRef, useState } from 'react';
import { api } from '../wire/client.js';

/** The piece that the next item is: typed as its number, or typed or scanned as its serial. */
export interface Piece {
  readonly text: string;
  /** Null while it is not known which one it is. */
  readonly piece: number | null;
  /** What was understood or why it was not. */
  readonly says: string;
  readonly faulty: boolean;
  type(text: string): void;
  /** Looks up what is typed, or what is given. */
  look(text?: string): void;
  clear(): void;
}

const EMPTY = { text: '', piece: null, says: '', faulty: false } as const;
type State = Pick<Piece, 'text' | 'piece' | 'says' | 'faulty'>;

/** The piece number that is meant: a whole number of one or more, or null. */
const numberOf = (text: string): number | null => (/^[1-9]\d{0,8}$/u.test(text) ? Number(text) : null);

/** Which piece of the lot a number or a serial is. */
export function usePiece(lot: string): Piece {
  const [state, setState] = useState<State>(EMPTY);
  const latest = useRef('');
  function type(text: string): void {
    latest.current = text.trim();
    setState({ text, piece: numberOf(text.trim()), says: '', faulty: false });
  }
  function look(given = state.text): void {
    const text = given.trim();
    type(given);
    if (text !== '' && numberOf(text) === null) void pieceOfSerial(lot, text).then((found) => latest.current === text && setState(found));
  }
  return {
    ...state,
    type,
    look,
    clear: () => type(''),
  };
}

async function pieceOfSerial(lot: string, serial: string): Promise<State> {
  const fault = (says: string): State => ({ text: serial, piece: null, says, faulty: true });
  try {
    const { data } = await api.GET('/api/find', { params: { query: { text: serial } } });
    const found = data?.found.filter((one) => one.kind === 'serial' && one.exact) ?? [];
    const ours = found.find((one) => one.lot === lot);
    if (ours?.piece) return { text: serial, piece: ours.piece, says: `piece ${ours.piece} of ${lot}`, faulty: false };
    return fault(found[0] ? `${serial} is of lot ${found[0].lot}, not of ${lot}` : `no piece of ${lot} has the serial ${serial}`);
  } catch {
    return fault('no connection to look the serial up: type the piece number, or leave it out');
  }
}
