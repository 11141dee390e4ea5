import { Inject, Injectable } from '@nestjs/common';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Lineage } from '../../trace/lineage.js';
import type { Actor } from '../people/access.js';
import { Signatures } from '../people/signature.js';
import { type CarryOut, decideCarryOut, type Sorted } from './carry-out.decide.js';
import { carryOutState } from './carry-out.query.js';
import { decideCloseReport } from './close.decide.js';
import { numbered } from './disposition.decide.js';
import type { CarryOutDispositionDto, CloseReportDto, SortedPartDto, VerifyDispositionDto } from './disposition.dto.js';
import { DispositionService } from './disposition.service.js';
import type { DispositionsView } from './disposition-view.dto.js';
import { holdsState } from './outcome.query.js';
import { decideVerify } from './verify.decide.js';
import { verifyState } from './verify.query.js';

/** Dispositions carried out and verified, and reports closed. */
@Injectable()
export class CarryOutService {
  constructor(
    private readonly dispositions: DispositionService,
    private readonly signatures: Signatures,
    private readonly lineage: Lineage,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  carryOut(actor: Actor, report: string, disposition: number, dto: CarryOutDispositionDto): Promise<DispositionsView> {
    return this.dispositions.on(actor, report, { ...dto, disposition }, async (tx, record, decision, at) => {
      const command = understood(disposition, dto);
      const one = numbered(decision.report, disposition);
      const { lotPattern } = this.config;
      await record(decideCarryOut(command, await carryOutState(tx, decision, one, command, { lineage: this.lineage, lotPattern, at })));
    });
  }

  verify(actor: Actor, report: string, disposition: number, dto: VerifyDispositionDto): Promise<DispositionsView> {
    return this.dispositions.on(actor, report, { ...dto, disposition }, async (tx, record, decision) => {
      const one = numbered(decision.report, disposition);
      const { inspection } = dto;
      await record(decideVerify({ disposition, inspection }, await verifyState(tx, this.lineage, decision, one, inspection)));
    });
  }

  async close(actor: Actor, report: string, dto: CloseReportDto): Promise<DispositionsView> {
    const signature = await this.signatures.sign(
      actor.person,
      dto.password,
      'I have seen that everything this report affects was dealt with, and close it',
    );
    return this.dispositions.on(actor, report, dto, async (tx, record, decision) => {
      const outcome = await holdsState(tx, this.lineage, decision.report);
      await record(decideCloseReport(dto.reason, { ...decision, outcome }, signature));
    });
  }
}

const understood = (disposition: number, dto: CarryOutDispositionDto): CarryOut => ({
  disposition,
  evidence: { run: dto.run ?? null, document: dto.document ?? null, note: dto.note, files: dto.files ?? [] },
  sorted: dto.sorted && { conforming: sortedPart(dto.sorted.conforming), nonconforming: sortedPart(dto.sorted.nonconforming) },
});

const sortedPart = (part: SortedPartDto | undefined): Sorted | undefined =>
  part && {
    pieces: givenSpans(part.pieces),
    quantityMicro: givenQuantity(part.quantity),
  };
