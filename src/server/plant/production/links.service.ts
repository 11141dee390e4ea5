import { Injectable } from '@nestjs/common';
import { parseQuantity } from '../../../../shared/quantity.js';
import { parseSpans } from '../../../../shared/spans.js';
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
          fromPieces: link.fromPieces === undefined ? undefined : parseSpans(link.fromPieces),
          to: link.to,
          toPieces: link.toPieces === undefined ? undefined : parseSpans(link.toPieces),
          quantityMicro: link.quantity === undefined ? undefined : parseQuantity(link.quantity),
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
