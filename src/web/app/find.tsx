import { Link, Redirect, useSearch } from 'wouter';
import { inWords } from '../../../shared/written.js';
import { type View, server } from '../wire/client.js';
import { Answered } from '../design/answered.js';
import { LedgerTable } from '../design/ledger-table.js';
import { Empty, Page } from '../design/page.js';
import { type Kind, PLACE_OF } from '../design/refer.js';

type Found = View<'FindLineView'>;

/** A kind of the answer to where its page is. */
const PAGE: Readonly<Record<string, Kind>> = { return: 'returned', gtin: 'item' };

function addressOf({ kind, code, of, lot }: Found): string {
  const target = lot ?? (kind === 'gtin' ? (of ?? code) : code);
  const page = lot === null ? (PAGE[kind] ?? (kind as Kind)) : 'lot';
  return `${PLACE_OF[page]}/${encodeURIComponent(target)}`;
}

/** What the record knows under a code that was typed, pasted or scanned. The only thing of that very name is opened at once. */
export function Find() {
  const asked = Object.fromEntries(new URLSearchParams(useSearch()));
  const query = server.useQuery('get', '/api/find', { params: { query: asked } });
  const text = asked['text'] ?? Object.values(asked).join(' ');
  return (
    <Answered query={query} what="what has that code">
      {(answer) => {
        const exact = answer.found.filter((one) => one.exact);
        const only = exact.length === 1 ? exact[0] : undefined;
        if (only) return <Redirect href={addressOf(only)} replace />;
        return (
          <Page title={`Found for ${text}`} facts={[{ label: 'Found', value: answer.total }]}>
            <LedgerTable
              caption={`What was found for ${text}`}
              rows={answer.found}
              rowKey={({ kind, code, of }) => `${kind} ${code} ${of}`}
              columns={[
                {
                  head: 'Code',
                  cell: (one) => (
                    <Link className="code" href={addressOf(one)}>
                      {one.code}
                    </Link>
                  ),
                },
                { head: 'Kind', cell: (one) => inWords(one.kind) },
                { head: 'What it is', cell: (one) => one.says },
                { head: 'Where it is', cell: (one) => <Link href={`/trace?text=${encodeURIComponent(one.code)}`}>Trace it</Link> },
              ]}
              empty={
                <Empty>
                  <p>
                    Nothing in the record has <code>{text}</code> in its code: no lot, serial, supplier’s lot, item, party or document.
                    Codes are compared as they are written; a scan read by another program may have lost its separators.
                  </p>
                </Empty>
              }
            />
          </Page>
        );
      }}
    </Answered>
  );
}
