import { Body, Controller, Get, HttpCode, Param, ParseIntPipe, Post } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { CarryOutService } from './carry-out.service.js';
import {
  CarryOutDispositionDto,
  CloseReportDto,
  ProposeDispositionDto,
  SetReviewRuleDto,
  SignDispositionDto,
  VerifyDispositionDto,
  WithdrawDispositionDto,
} from './disposition.dto.js';
import { DispositionService } from './disposition.service.js';
import { DispositionsView, ReviewRuleView } from './disposition-view.dto.js';

@Controller()
export class DispositionsController {
  constructor(
    private readonly dispositions: DispositionService,
    private readonly carryingOut: CarryOutService,
  ) {}

  /** How a report is disposed of: the account, and every disposition with its signatures and evidence. */
  @Get('reports/:report/dispositions')
  @May(...EVERYONE)
  listDispositions(@Param('report') report: string): Promise<DispositionsView> {
    return this.dispositions.dispositions(report);
  }

  /** Proposes what becomes of a part of what a reviewed report affects. */
  @Post('reports/:report/dispositions')
  @May('quality')
  proposeDisposition(
    @CurrentActor() actor: Actor,
    @Param('report') report: string,
    @Body() body: ProposeDispositionDto,
  ): Promise<DispositionsView> {
    return this.dispositions.propose(actor, report, body);
  }

  /** Signs a disposition for one of the signer's functions: a signed decision. */
  @Post('reports/:report/dispositions/:disposition/signature')
  @HttpCode(200)
  @May('quality', 'operator', 'inspector', 'dispatcher', 'recall-lead', 'administrator')
  signDisposition(
    @CurrentActor() actor: Actor,
    @Param('report') report: string,
    @Param('disposition', ParseIntPipe) disposition: number,
    @Body() body: SignDispositionDto,
  ): Promise<DispositionsView> {
    return this.dispositions.sign(actor, report, disposition, body);
  }

  /** Takes a disposition back that was not carried out; its part is open again. */
  @Post('reports/:report/dispositions/:disposition/withdrawal')
  @HttpCode(200)
  @May('quality')
  withdrawDisposition(
    @CurrentActor() actor: Actor,
    @Param('report') report: string,
    @Param('disposition', ParseIntPipe) disposition: number,
    @Body() body: WithdrawDispositionDto,
  ): Promise<DispositionsView> {
    return this.dispositions.withdraw(actor, report, disposition, body);
  }

  /** Records that a signed disposition was carried out, with its evidence and what it does to the pieces. */
  @Post('reports/:report/dispositions/:disposition/carried-out')
  @HttpCode(200)
  @May('quality', 'operator', 'inspector', 'dispatcher')
  carryOutDisposition(
    @CurrentActor() actor: Actor,
    @Param('report') report: string,
    @Param('disposition', ParseIntPipe) disposition: number,
    @Body() body: CarryOutDispositionDto,
  ): Promise<DispositionsView> {
    return this.carryingOut.carryOut(actor, report, disposition, body);
  }

  /** Verifies a rework or repair by an inspection that was opened after it and accepted the pieces. */
  @Post('reports/:report/dispositions/:disposition/verification')
  @HttpCode(200)
  @May('quality', 'inspector')
  verifyDisposition(
    @CurrentActor() actor: Actor,
    @Param('report') report: string,
    @Param('disposition', ParseIntPipe) disposition: number,
    @Body() body: VerifyDispositionDto,
  ): Promise<DispositionsView> {
    return this.carryingOut.verify(actor, report, disposition, body);
  }

  /** Closes a report of which nothing is left to do, and lifts its holds but for what is under a concession: a signed decision. */
  @Post('reports/:report/closing')
  @HttpCode(200)
  @May('quality')
  closeReport(@CurrentActor() actor: Actor, @Param('report') report: string, @Body() body: CloseReportDto): Promise<DispositionsView> {
    return this.carryingOut.close(actor, report, body);
  }

  /** Whose signatures dispositions wait for. */
  @Get('review-rule')
  @May(...EVERYONE)
  getReviewRule(): Promise<ReviewRuleView> {
    return this.dispositions.rule();
  }

  /** Sets whose signatures dispositions wait for from now on: a signed decision. */
  @Post('review-rule')
  @HttpCode(200)
  @May('quality')
  setReviewRule(@CurrentActor() actor: Actor, @Body() body: SetReviewRuleDto): Promise<ReviewRuleView> {
    return this.dispositions.setRule(actor, body);
  }
}
