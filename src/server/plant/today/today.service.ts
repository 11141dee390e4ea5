import { Inject, Injectable } from '@nestjs/common';
import { Clock } from '../../platform/clock.js';
import { Reader } from '../../platform/database/reader.js';
import { GenealogyIndex } from '../../trace/genealogy-index.js';
import { catalogueOf } from '../catalogue/catalogue.query.js';
import type { Actor } from '../people/access.js';
import type { Ground } from './ground.js';
import type { TodayView, WaitingKind } from './today.dto.js';
import { groupOf, groupsFor, type Waits } from './waiting.js';
import { inspectionsWaiting, instrumentsWaiting } from './waiting-inspections.query.js';
import { deliveriesWaiting, expiringWaiting, findingsWaiting, runsWaiting } from './waiting-making.query.js';
import { openHoldsWaiting, returnsWaiting, urgentReleasesWaiting } from './waiting-quality.query.js';
import { releasesWaiting } from './waiting-releases.query.js';
import { overdueWaiting, recallsWaiting, reportsWaiting, signaturesWaiting } from './waiting-reports.query.js';

const WAITING: Readonly<Record<WaitingKind, (ground: Ground) => Promise<Waits>>> = {
  recalls: recallsWaiting,
  signatures: signaturesWaiting,
  overdue: overdueWaiting,
  reports: reportsWaiting,
  inspections: inspectionsWaiting,
  releases: releasesWaiting,
  returns: returnsWaiting,
  holds: openHoldsWaiting,
  'urgent-releases': urgentReleasesWaiting,
  instruments: instrumentsWaiting,
  findings: findingsWaiting,
  runs: runsWaiting,
  expiring: expiringWaiting,
  deliveries: deliveriesWaiting,
};

/** What waits for a person. Reads only. */
@Injectable()
export class TodayService {
  constructor(
    private readonly reader: Reader,
    private readonly index: GenealogyIndex,
    @Inject(Clock) private readonly clock: Clock,
  ) {}

  async today(actor: Actor): Promise<TodayView> {
    const from = this.reader.manager;
    const genealogy = await this.index.current();
    const now = this.clock.now();
    const today = now.slice(0, 10);
    const names = new Map((await catalogueOf(from, 'item')).map(({ code, name }) => [code, name]));
    const nameOf = (item: string): string => names.get(item) ?? item;
    const known = { from, genealogy, seq: genealogy.committedSeq, on: today };
    const ground: Ground = { from, known, actor, now, today, nameOf };
    const groups = [];
    for (const kind of groupsFor(actor.roles)) {
      const group = groupOf(kind, await WAITING[kind](ground), { roles: actor.roles, nameOf });
      if (group) groups.push(group);
    }
    return { now, entries: known.seq, groups };
  }
}
