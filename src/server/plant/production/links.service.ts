import { Injectable } from '@nestjs/common';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { decideCorrectLinks } from './link-correcting.decide.js';
import type { CorrectLinksDto, RunLinksView } from './link-correcting.dto.js';
import { linkCorrectingState, recordedLinks } from './links.query.js';

/** Links read one by one, and put right where no run of ours worked them out. */
@Injectable()
export class LinksService {
  constructor(
    private readonly commands: Commands,
    private readonly reader: Reader,
    private readonly lineage: Lineage,
  ) {}

  correct(actor: Actor, dto: CorrectLinksDto): Promise<RunLinksView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const command = {
        run: dto.run,
        kind: dto.kind,
        reason: dto.reason,
        location: dto.location,
        voids: (dto.voids ?? []).map(({ seq, ord }) => ({ seq, ord })),
        links: (dto.links ?? []).map((link) => ({
          from: link.from,
          fromPieces: givenSpans(link.fromPieces),
          to: link.to,
          toPieces: givenSpans(link.toPieces),
          quantityMicro: givenQuantity(link.quantity),
          map: link.map ?? ('all' as const),
          at: link.at,
        })),
      };
      await record([decideCorrectLinks(command, await linkCorrectingState(tx, this.lineage, command, at))]);
      return { run: dto.run, links: await recordedLinks(tx, dto.run) };
    });
  }

  async ofRun(run: string): Promise<RunLinksView> {
    return { run, links: await recordedLinks(this.reader.manager, run) };
  }
}
