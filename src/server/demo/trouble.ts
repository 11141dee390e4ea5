import { at, later, workday } from './calendar.js';
import { reportLeak } from './reporting.js';
import type { Story } from './story.js';

/** The supplier's lot that turns out to be bad: the rust inhibitor is under strength. */
const BAD_SUPPLIER_LOT = 'RI-2207';

/** What the end of the story is told by. */
export interface Ending {
  readonly badLot: string;
  readonly complainedSerial: string;
  readonly recall: string;
}

/** Goods that come back: dented cans, a pump that leaks. They stand in quarantine, and the record keeps who had them. */
export async function returnGoods(story: Story, day: number): Promise<void> {
  const back = (item: string) =>
    story.sent.findLast((part) => part.item === item && !story.cameBack.has(part) && part.last - part.first >= (item === 'PUMP' ? 1 : 30))!;
  const dented = back('WAX-250');
  const leaking = back('PUMP');
  story.cameBack.add(dented).add(leaking);
  story.clock(at(workday(day), '16:00'));
  await returned(story, dented.customer, dented.lot, `${dented.first}-${dented.first + DENTED - 1}`, 'two cartons dented in transit');
  const document = await returned(story, leaking.customer, leaking.lot, String(leaking.first), 'leaks at the hose');
  const serial = story.serialsOf.get(leaking.lot)![leaking.first - 1]!;
  story.leaking.push(await reportLeak(story, day, leaking.lot, leaking.first, serial, document));
  story.dented.push({ lot: dented.lot, first: dented.first, last: dented.first + DENTED - 1 });
}

/** Two cartons. */
const DENTED = 24;

async function returned(story: Story, customer: string, lot: string, pieces: string, condition: string): Promise<string> {
  const { returned: document } = await story.as('hugo.dispatch').post<{ returned: string }>('/api/returns', {
    customer,
    documentType: 'return note',
    document: `R-${lot}-${pieces.split(/[-,]/)[0]}`,
    location: 'RETURNS',
    condition,
    lines: [{ lot, pieces }],
  });
  return document;
}

/** A drill on a label reel in April: everything as in earnest, and marked as a drill. */
export async function drill(story: Story, day: number): Promise<string> {
  story.clock(at(workday(day), '09:00'));
  const { recall } = await story.as('iris.recall').post<{ recall: string }>('/api/recalls', {
    origin: [{ lot: story.lotsOf.get('reel 0091')! }],
    scope: 'narrow',
    title: 'Drill: label reel 0091',
    reason: 'Yearly exercise: could we find every can with a label of this reel within the hour?',
    type: 'recall',
    drill: true,
  });
  return recall;
}

/** Its scope was there at once; that nobody signed it off for six weeks is what the drill found wanting. */
export async function closeDrill(story: Story, instant: string, recall: string): Promise<void> {
  story.clock(instant);
  await story.as('iris.recall').post(`/api/recalls/${recall}/gaps`, {
    found: 'every can and customer was on the list within the hour, but the drill was left open: nobody was named to sign it off',
    action: 'name both signers when a drill is planned, and sign on the day',
    owner: 'iris.recall',
    dueOn: story.dateAfter(instant.slice(0, 10), 30),
  });
  await story.sign('iris.recall', `/api/recalls/${recall}/closing`, { reason: 'every can of the reel is accounted for' });
  story.clock(later(instant, 6));
  await story.sign('finn.quality', `/api/recalls/${recall}/closing`, { reason: 'list compared with the shipments of the day: complete' });
}

/** Complaints about rust lead to the inhibitor: held with everything made from it, then recalled. */
export async function recallBadLot(story: Story, day: number): Promise<Ending> {
  const badLot = story.lotsOf.get(BAD_SUPPLIER_LOT)!;
  story.clock(at(workday(day), '10:12'));
  await story.sign('gwen.quality', '/api/holds', {
    parts: [{ lot: badLot }],
    reaches: true,
    owner: 'gwen.quality',
    reason: 'six complaints of rust after waxing; retained sample of the inhibitor is under strength',
  });
  story.clock(at(workday(day), '10:40'));
  const { recall } = await story.as('iris.recall').post<{ recall: string }>('/api/recalls', {
    origin: [{ lot: badLot }],
    scope: 'narrow',
    title: 'Chain wax 250 g: rust inhibitor under strength',
    reason: 'The rust inhibitor received under supplier lot RI-2207 is under strength. Chains waxed with it may rust.',
    hazard: 'No injury is known. A chain that rusts may wear early and, if neglected, break under load.',
    type: 'recall',
    drill: false,
  });
  const pump = story.sent.findLast((part) => part.item === 'PUMP')!;
  return { badLot, complainedSerial: story.serialsOf.get(pump.lot)![pump.first - 1]!, recall };
}
