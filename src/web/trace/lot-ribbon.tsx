import { useMemo } from 'react';
import type { TraceAnswer } from '../../../shared/api/trace.js';
import { ribbonLotOf, ribbonOfLot } from '../../../shared/ribbon-of-lot.js';
import { riverCustomerId, riverLotId } from '../../../shared/river-of-trace.js';
import { Answered } from '../design/answered.js';
import { Section } from '../design/page.js';
import { Ribbon } from '../pictures/ribbon.js';
import { server, type View } from '../wire/client.js';
import type { Question } from './question.js';
import { customerOf, lotOf, type Views } from './views.js';

/** The ribbon of the numbered lot that was chosen in any view; until one is, of the first that is affected. */
export function LotRibbon({ question, answer, views }: { question: Question; answer: TraceAnswer; views: Views }) {
  const numbered = (answer.flow?.lots ?? []).filter(({ pieces, affected }) => pieces !== null && affected);
  const chosen = lotOf(views.chosen);
  const shown = numbered.find(({ lot }) => lot === chosen) ?? numbered[0];
  if (shown === undefined) return null;
  const note =
    chosen === null
      ? 'the first numbered lot; choose another in the river or the table'
      : shown.lot === chosen
        ? 'the lot that was chosen'
        : `${chosen} is not numbered; this is the first that is`;
  return (
    <Section title={`Ribbon of ${shown.lot}`} note={note} id="ribbon">
      <RibbonOf key={shown.lot} lot={shown.lot} asKnownAt={question.asKnownAt} answer={answer} views={views} />
    </Section>
  );
}

function RibbonOf({ lot, asKnownAt, answer, views }: { lot: string; asKnownAt: number | null; answer: TraceAnswer; views: Views }) {
  const query = server.useQuery(
    'get',
    '/api/lots/{lot}',
    { params: { path: { lot }, query: asKnownAt === null ? {} : { asKnownAt } } },
    { placeholderData: (before) => before },
  );
  return (
    <Answered query={query} what={`lot ${lot}`}>
      {(view) => <DrawnRibbon view={view} answer={answer} views={views} />}
    </Answered>
  );
}

function DrawnRibbon({ view, answer, views }: { view: View<'LotView'>; answer: TraceAnswer; views: Views }) {
  const input = useMemo(() => {
    const affected = new Map((answer.flow?.lots ?? []).filter((one) => one.affected).map((one) => [one.lot, one.spans]));
    const ribbon = ribbonLotOf(view, affected);
    return ribbon === null ? null : ribbonOfLot(ribbon);
  }, [view, answer]);
  const ids = useMemo(() => {
    const lots = (answer.flow?.lots ?? []).map(({ lot }) => [lot, riverLotId(lot)] as const);
    const customers = answer.consignees.map(({ customer }) => [customer, riverCustomerId(customer)] as const);
    return new Map([...customers, ...lots]);
  }, [answer]);
  const codeOf = (id: string | null): string | null => lotOf(id) ?? customerOf(id);
  if (input === null) return null;
  return (
    <Ribbon
      input={input}
      label={`Lot ${view.lot}`}
      marked={codeOf(views.marked)}
      onMark={(code) => views.onMark(code === null ? null : (ids.get(code) ?? null))}
    />
  );
}
