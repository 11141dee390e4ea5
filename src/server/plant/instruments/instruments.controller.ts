import { Body, Controller, Get, HttpCode, Param, Post, Query } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import {
  AnswerQuestionDto,
  CalibrateInstrumentDto,
  CalibrationView,
  InstrumentCardView,
  InstrumentQuestionView,
  InstrumentStateView,
  JudgedQueryDto,
  VoidCalibrationDto,
} from './instruments.dto.js';
import { InstrumentsService } from './instruments.service.js';
import { JudgedView } from './judged.dto.js';
import { JudgedService } from './judged.service.js';

@Controller()
export class InstrumentsController {
  constructor(
    private readonly instruments: InstrumentsService,
    private readonly judging: JudgedService,
  ) {}

  /** Every instrument with its state and the day it is due, due soon first. */
  @Get('instruments')
  @May(...EVERYONE)
  listInstruments(): Promise<InstrumentStateView[]> {
    return this.instruments.list();
  }

  /** Open questions about instruments found out of tolerance, the oldest first. */
  @Get('instruments/questions')
  @May(...EVERYONE)
  listInstrumentQuestions(): Promise<InstrumentQuestionView[]> {
    return this.instruments.questions();
  }

  /** Answers what an instrument found out of tolerance has judged: a signed decision. */
  @Post('instruments/questions/:calibration/answer')
  @HttpCode(200)
  @May('quality')
  answerInstrumentQuestion(
    @CurrentActor() actor: Actor,
    @Param('calibration') calibration: string,
    @Body() body: AnswerQuestionDto,
  ): Promise<InstrumentQuestionView> {
    return this.instruments.answer(actor, calibration, body);
  }

  /** An instrument with its state, every calibration, the latest first, and the questions they opened. */
  @Get('instruments/:instrument')
  @May(...EVERYONE)
  getInstrument(@Param('instrument') instrument: string): Promise<InstrumentCardView> {
    return this.instruments.card(instrument);
  }

  /** Records a calibration; one that found the instrument out of tolerance opens the question what it has judged. */
  @Post('instruments/:instrument/calibrations')
  @May('quality', 'inspector')
  calibrateInstrument(
    @CurrentActor() actor: Actor,
    @Param('instrument') instrument: string,
    @Body() body: CalibrateInstrumentDto,
  ): Promise<CalibrationView> {
    return this.instruments.calibrate(actor, instrument, body);
  }

  /** What an instrument judged since it was last known good: results, lots, and everything made from them with where it is now. */
  @Get('instruments/:instrument/judged')
  @May(...EVERYONE)
  getJudged(@Param('instrument') instrument: string, @Query() query: JudgedQueryDto): Promise<JudgedView> {
    return this.judging.judged(instrument, query.calibration);
  }

  /** One calibration. */
  @Get('calibrations/:calibration')
  @May(...EVERYONE)
  getCalibration(@Param('calibration') calibration: string): Promise<CalibrationView> {
    return this.instruments.calibration(calibration);
  }

  /** Puts right a calibration recorded in error: it counts no more, also for the time since it was made. */
  @Post('calibrations/:calibration/reversal')
  @HttpCode(200)
  @May('quality')
  reverseCalibration(
    @CurrentActor() actor: Actor,
    @Param('calibration') calibration: string,
    @Body() body: VoidCalibrationDto,
  ): Promise<CalibrationView> {
    return this.instruments.voidCalibration(actor, calibration, body);
  }
}
