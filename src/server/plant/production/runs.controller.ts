import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import { ChargingService } from './charging.service.js';
import { CloseRunDto, CorrectRunDto } from './closing.dto.js';
import { ClosingService } from './closing.service.js';
import { ChargeHeelDto, ChargeRunDto, ExplainYieldDto, RecordChangeoversDto, ReturnChargesDto, StartRunDto } from './run.dto.js';
import { RunFilterDto } from './run-filter.dto.js';
import { RunService } from './run.service.js';
import { RunHeadView, RunView } from './run-view.dto.js';

@Controller('runs')
export class RunsController {
  constructor(
    private readonly runs: RunService,
    private readonly charging: ChargingService,
    private readonly closing: ClosingService,
  ) {}

  /** Starts a run. */
  @Post()
  @May('operator', 'administrator')
  startRun(@CurrentActor() actor: Actor, @Body() body: StartRunDto): Promise<RunView> {
    return this.runs.start(actor, body);
  }

  /** Up to 500 runs, open ones first, then the latest. */
  @Get()
  @May(...EVERYONE)
  listRuns(@Query() query: RunFilterDto): Promise<RunHeadView[]> {
    return this.runs.runs({ ...query, toExplain: query.toExplain === 'true' });
  }

  /** One run with everything that was recorded of it. */
  @Get(':run')
  @May(...EVERYONE)
  getRun(@Param('run') run: string): Promise<RunView> {
    return this.runs.run(run);
  }

  /** Charges lots into a run. */
  @Post(':run/charges')
  @May('operator', 'administrator')
  chargeRun(@CurrentActor() actor: Actor, @Param('run') run: string, @Body() body: ChargeRunDto): Promise<RunView> {
    return this.charging.charge(actor, run, body);
  }

  /** Charges what the run's vessel still holds of an earlier batch. */
  @Post(':run/heel')
  @May('operator', 'administrator')
  chargeHeel(@CurrentActor() actor: Actor, @Param('run') run: string, @Body() body: ChargeHeelDto): Promise<RunView> {
    return this.runs.chargeHeel(actor, run, body);
  }

  /** Puts unused material of a running run back to stock. */
  @Post(':run/returns')
  @May('operator', 'administrator')
  returnCharges(@CurrentActor() actor: Actor, @Param('run') run: string, @Body() body: ReturnChargesDto): Promise<RunView> {
    return this.charging.takeBack(actor, run, body);
  }

  /** Records from which piece on lots are in use. */
  @Post(':run/changeovers')
  @May('operator', 'administrator')
  recordChangeovers(@CurrentActor() actor: Actor, @Param('run') run: string, @Body() body: RecordChangeoversDto): Promise<RunView> {
    return this.charging.changeOver(actor, run, body);
  }

  /** Closes a run with what it yielded. */
  @Post(':run/close')
  @May('operator', 'administrator')
  closeRun(@CurrentActor() actor: Actor, @Param('run') run: string, @Body() body: CloseRunDto): Promise<RunView> {
    return this.closing.close(actor, run, body);
  }

  /** Explains a yield that was outside its limits. */
  @Post(':run/explanations')
  @May('operator', 'quality', 'administrator')
  explainYield(@CurrentActor() actor: Actor, @Param('run') run: string, @Body() body: ExplainYieldDto): Promise<RunView> {
    return this.runs.explain(actor, run, body);
  }

  /** Puts the record of a closed run right. */
  @Post(':run/corrections')
  @May('operator', 'quality', 'administrator')
  correctRun(@CurrentActor() actor: Actor, @Param('run') run: string, @Body() body: CorrectRunDto): Promise<RunView> {
    return this.closing.correct(actor, run, body);
  }
}
