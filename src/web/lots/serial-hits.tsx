import { Link } from 'wouter';
import { Notice } from '../design/page.js';
import { Refer } from '../design/refer.js';
import { server } from '../wire/client.js';

const MOST = 5;

/** Units whose serial holds what was typed: the list below has their lots, this says which pieces they are. */
export function SerialHits({ text }: { text: string }) {
  const { data } = server.useQuery('get', '/api/find', { params: { query: { text } } });
  const serials = (data?.found ?? []).filter(({ kind }) => kind === 'serial');
  if (serials.length === 0) return null;
  return (
    <Notice>
      {serials.slice(0, MOST).map(({ code, of, says }) => (
        <p key={`${code} ${of}`}>
          Serial <code>{code}</code>: {says}.{' '}
          {of === null ? null : (
            <Refer kind="lot" code={of}>
              See {of}
            </Refer>
          )}{' '}
          <Link href={`/trace?serial=${encodeURIComponent(code)}`}>Trace it</Link>
        </p>
      ))}
      {serials.length > MOST ? <p>and more serials like it</p> : null}
    </Notice>
  );
}
