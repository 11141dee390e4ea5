import { at, later, workday } from './calendar.js';
import { MILLI } from './pantry.js';
import type { Story } from './story.js';

const CUSTOMERS = 25;

/** Three lorries a week from the fourth week on, each with two or three customers' goods; small customers come up less often. */
export async function shipDay(story: Story, day: number): Promise<void> {
  if (day < 15 || day % 5 === 1 || day % 5 === 3) return;
  const date = workday(day);
  let time = at(date, '14:10');
  for (let drop = 0; drop < story.dice.between(2, 3); drop++) {
    const customer = `C-${String(1 + Math.floor(CUSTOMERS * story.dice.roll() ** 1.6)).padStart(3, '0')}`;
    await ship(story, customer, time, date);
    time = later(time, 35);
  }
}

async function ship(story: Story, customer: string, shippedAt: string, date: string): Promise<void> {
  const lines: { lot: string; pieces: string }[] = [];
  const sent: Omit<Story['sent'][number], 'shipment' | 'customer' | 'date'>[] = [];
  const cans = Math.min(story.dice.between(4, 40) * 12, available(story, 'WAX-250'));
  const pumps = story.dice.roll() < 0.6 ? Math.min(story.dice.between(2, 12), available(story, 'PUMP')) : 0;
  for (const [item, pieces] of [
    ['WAX-250', cans],
    ['PUMP', pumps],
  ] as const) {
    for (const { shelf, first, last } of story.pantry.takePieces(item, pieces)) {
      lines.push({ lot: shelf.lot, pieces: `${first}-${last}` });
      sent.push({ item, lot: shelf.lot, first, last });
    }
  }
  if (lines.length === 0) return;
  story.clock(shippedAt);
  const { shipment } = await story.as('hugo.dispatch').post<{ shipment: string }>('/api/shipments', {
    customer,
    documentType: 'dispatch note',
    document: `FW-${date.replaceAll('-', '').slice(2)}-${customer.slice(2)}-${shippedAt.slice(11, 16).replace(':', '')}`,
    shippedAt,
    location: 'FG-1',
    lines,
  });
  for (const part of sent) story.sent.push({ ...part, shipment, customer, date });
}

const available = (story: Story, item: string): number => story.pantry.of(item).reduce((sum, shelf) => sum + shelf.left / MILLI, 0);
