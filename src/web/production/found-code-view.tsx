import { useEffect } from 'react';
import { writtenDate } from '../../../shared/written.js';
import { server } from '../wire/client.js';
import { useOutOfReach } from '../wire/use-out-of-reach.js';
import { Answered } from '../design/answered.js';
import { Caution } from '../design/page.js';
import { Stamps } from '../design/stamp.js';
import type { ChargeDrafting } from './charge-draft.js';
import { ChargeForm } from './charge-form.js';
import { type Asked, type FoundLot, lotsFound, sayAsked } from './found-code.js';
import { amount, type Run } from './run.js';
import { UnseenCharge } from './unseen-charge.js';
import { wantOf } from './wants.js';

interface Props {
  run: Run;
  asked: Asked;
  drafting: ChargeDrafting;
  /** It is charged, or kept; what to say of it. */
  onDone: (words: string) => void;
}

/** What the record knows under the code that was scanned: the lot to charge, a choice of lots, or that there is none. */
export function FoundCode({ run, asked, drafting, onDone }: Props) {
  const query = server.useQuery('get', '/api/find', { params: { query: { ...asked } } });
  // What was looked up before is known without a connection too.
  const outOfReach = useOutOfReach(query);
  if (outOfReach) return <UnseenCharge run={run} asked={asked} drafting={drafting} onDone={onDone} />;
  const { data } = query;
  const chosen = drafting.draft.fields['chosen'];
  const lots = (data ? lotsFound(data.found) : []).filter(({ lot }) => chosen === undefined || lot === chosen);
  const only = lots.length === 1 ? lots[0] : undefined;
  return (
    <Answered query={query} what={sayAsked(asked)}>
      {() =>
        only ? (
          <FoundOne run={run} found={only} drafting={drafting} onDone={onDone} />
        ) : (
          <NotOne
            lots={lots}
            asked={asked}
            others={data?.found.filter((one) => one.exact).map(({ kind, says }) => `${kind}: ${says}`) ?? []}
            drafting={drafting}
          />
        )
      }
    </Answered>
  );
}

function FoundOne({ run, found, drafting, onDone }: Omit<Props, 'asked'> & { found: FoundLot }) {
  const query = server.useQuery('get', '/api/lots/{lot}', { params: { path: { lot: found.lot } } });
  const item = query.data?.item;
  const outOfReach = useOutOfReach(query);
  const bySerial = item !== undefined && found.serial !== null && wantOf(run, item)?.bySerial === true;
  const { gather } = drafting;
  useEffect(() => {
    if (bySerial && found.serial !== null) gather({ serial: found.serial, item, lot: found.lot });
    // Gathered once, when it is known what was scanned.
    // oxlint-disable-next-line react-hooks/exhaustive-deps
  }, [bySerial, item, found.serial, found.lot]);
  if (outOfReach) return <UnseenCharge run={run} asked={{ text: found.lot }} drafting={drafting} onDone={onDone} />;
  return (
    <Answered query={query} what={`lot ${found.lot}`}>
      {(lot) => (bySerial ? null : <ChargeForm run={run} lot={lot} piece={found.piece} drafting={drafting} onDone={onDone} />)}
    </Answered>
  );
}

/** Several lots have the code, or none: nothing is guessed. */
function NotOne({
  lots,
  asked,
  others,
  drafting,
}: {
  lots: readonly FoundLot[];
  asked: Asked;
  others: readonly string[];
  drafting: ChargeDrafting;
}) {
  if (lots.length === 0) {
    return (
      <Caution>
        <p>
          There is no lot and no serial <code>{sayAsked(asked)}</code> in the record; nothing is charged.
          {others.length === 0 ? ' Codes are compared as they are written.' : ` It is something else: ${others.join('; ')}.`}
        </p>
        <p>
          <button type="button" onClick={() => drafting.ask(null)}>
            Scan another
          </button>
        </p>
      </Caution>
    );
  }
  return (
    <div>
      <p>
        More than one lot has <code>{sayAsked(asked)}</code> on it. Which is it?
      </p>
      <div className="row">
        {lots.map(({ lot }) => (
          <LotChoice key={lot} code={lot} onChoose={() => drafting.type('chosen', lot)} />
        ))}
      </div>
    </div>
  );
}

/** One of several lots, with what tells it from the others. */
function LotChoice({ code, onChoose }: { code: string; onChoose: () => void }) {
  const { data: lot } = server.useQuery('get', '/api/lots/{lot}', { params: { path: { lot: code } } });
  return (
    <button type="button" className="candidate" onClick={onChoose}>
      <code>{code}</code>
      {lot === undefined ? null : (
        <>
          <span>
            {lot.itemName}, {amount(lot.reconciliation.onHand, lot.unit)} on hand
          </span>
          <span className="quiet">{lot.expiresOn === null ? lot.source : `${lot.source}, expires ${writtenDate(lot.expiresOn)}`}</span>
          <Stamps stamps={lot.stamps} unit={lot.unit} />
        </>
      )}
    </button>
  );
}
