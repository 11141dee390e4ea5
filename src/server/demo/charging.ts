import { later } from './calendar.js';
import type { Story } from './story.js';

/** Somebody charges a run: one charge after the other, each some minutes after the one before. */
export class Charging {
  /** When the last charge went in, or the run began. */
  time: string;

  constructor(
    readonly story: Story,
    readonly person: string,
    readonly run: string,
    startedAt: string,
    private readonly minutes: number,
  ) {
    this.time = startedAt;
  }

  async charge(charge: object): Promise<void> {
    this.time = this.story.clock(later(this.time, this.minutes));
    const charges = [{ ...charge, chargedAt: this.time }];
    await this.story.as(this.person).post(`/api/runs/${this.run}/charges`, { charges });
  }
}
