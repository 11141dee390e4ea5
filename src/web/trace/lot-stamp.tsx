import { useEffect, useState } from 'react';
import { Stamps } from '../design/stamp.js';
import { server, type View } from '../wire/client.js';

type Line = View<'LotLineView'>;

/** A pointer that only passes asks nothing. */
const REST_MS = 150;

/** The stamps of one lot, as they are now; nothing until they are known. */
export function LotStamp({ lot }: { lot: string }) {
  const [rests, setRests] = useState('');
  useEffect(() => {
    const timer = setTimeout(() => setRests(lot), REST_MS);
    return () => clearTimeout(timer);
  }, [lot]);
  const { data } = server.useQuery(
    'get',
    '/api/lots',
    { params: { query: { lots: [lot] } } },
    { enabled: rests === lot, staleTime: 30_000 },
  );
  const line: Line | undefined = data?.lots[0];
  return line === undefined ? null : <Stamps stamps={line.stamps} unit={line.unit} small />;
}

/** The stamps of the lots of a table, as they are now, by lot. */
export function useStamps(lots: readonly string[]): ReadonlyMap<string, Line> {
  const { data } = server.useQuery(
    'get',
    '/api/lots',
    { params: { query: { lots: [...lots], limit: 500 } } },
    { enabled: lots.length > 0, staleTime: 30_000, placeholderData: (before) => before },
  );
  return new Map((data?.lots ?? []).map((line) => [line.lot, line]));
}
