import { RECALL_DAY } from './calendar.js';
import { buildDay } from './building.js';
import { receiveDay } from './deliveries.js';
import { calibrateDay } from './inspecting.js';
import { fillDay } from './filling.js';
import { tellLastDays } from './last-days.js';
import { mendDay } from './mending.js';
import { mixDay } from './mixing.js';
import { shipDay } from './shipping.js';
import type { Story } from './story.js';
import { drill, type Ending, recallBadLot, returnGoods } from './trouble.js';

/** Three months of the plant, day by day, up to the morning of the day after a recall. */
export async function tellStory(story: Story): Promise<Ending> {
  let exercise = '';
  for (let day = 0; day < RECALL_DAY; day++) {
    await calibrateDay(story, day);
    await receiveDay(story, day);
    await mixDay(story, day);
    await fillDay(story, day);
    await buildDay(story, day);
    await shipDay(story, day);
    await mendDay(story, day);
    if (day === 33) exercise = await drill(story, day);
    if (day === 41 || day === 56) await returnGoods(story, day);
  }
  const end = await recallBadLot(story, RECALL_DAY);
  await tellLastDays(story, RECALL_DAY, { recall: end.recall, drill: exercise });
  return end;
}
