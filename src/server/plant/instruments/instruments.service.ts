import { Inject, Injectable } from '@nestjs/common';
import type { EntityManager } from 'typeorm';
import { parseQuantity } from '../../../../shared/quantity.js';
import { Refusal } from '../../../../shared/refusal.js';
import { Clock } from '../../platform/clock.js';
import { Reader } from '../../platform/database/reader.js';
import { Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { Signatures } from '../people/signature.js';
import { decideCalibration, decideVoid } from './calibration.decide.js';
import { calibrationState, calibrationView, standingCalibration } from './calibrations.query.js';
import { instrumentCard, instrumentList } from './instruments.query.js';
import type {
  AnswerQuestionDto,
  CalibrateInstrumentDto,
  CalibrationView,
  InstrumentCardView,
  InstrumentQuestionView,
  InstrumentStateView,
  VoidCalibrationDto,
} from './instruments.dto.js';
import { decideAnswer } from './question.decide.js';
import { openQuestions, questionOf, questionState } from './questions.query.js';

export const unknownInstrument = (instrument: string): Refusal =>
  new Refusal('unknown', [{ code: 'instrument-unknown', detail: `no instrument ${instrument}`, instrument }]);

/** Calibrations, what follows from them for the use of an instrument, and the questions they open. */
@Injectable()
export class InstrumentsService {
  constructor(
    private readonly commands: Commands,
    private readonly signatures: Signatures,
    private readonly reader: Reader,
    @Inject(Clock) private readonly clock: Clock,
  ) {}

  calibrate(actor: Actor, instrument: string, dto: CalibrateInstrumentDto): Promise<CalibrationView> {
    return this.commands.run(actor, { ...dto, instrument } as CalibrateInstrumentDto, async (tx, record, at) => {
      const { commandId: _commandId, readings, ...said } = dto;
      const command = {
        ...said,
        instrument,
        calibratedAt: dto.calibratedAt ?? at,
        readings: readings?.map(({ nominal, found, tolerance }) => ({
          nominalMicro: parseQuantity(nominal),
          foundMicro: parseQuantity(found),
          toleranceMicro: parseQuantity(tolerance),
        })),
      };
      const state = await calibrationState(tx, command, at);
      await record(decideCalibration(command, state));
      return (await calibrationView(tx, state.calibration))!;
    });
  }

  voidCalibration(actor: Actor, calibration: string, dto: VoidCalibrationDto): Promise<CalibrationView> {
    return this.commands.run(actor, { ...dto, calibration } as VoidCalibrationDto, async (tx, record) => {
      await record([decideVoid({ calibration, reason: dto.reason }, await standingCalibration(tx, calibration))]);
      return (await calibrationView(tx, calibration))!;
    });
  }

  async answer(actor: Actor, calibration: string, dto: AnswerQuestionDto): Promise<InstrumentQuestionView> {
    const signature = await this.signatures.sign(actor.person, dto.password, MEANINGS[dto.conclusion]);
    return this.commands.run(actor, { ...dto, calibration } as AnswerQuestionDto, async (tx, record) => {
      const command = { calibration, conclusion: dto.conclusion, reason: dto.reason };
      await record([decideAnswer(command, await questionState(tx, calibration), signature)]);
      return (await questionOf(tx, calibration))!;
    });
  }

  list(): Promise<InstrumentStateView[]> {
    return instrumentList(this.reader.manager, this.clock.now());
  }

  async card(instrument: string): Promise<InstrumentCardView> {
    const card = await instrumentCard(this.reader.manager, instrument, this.clock.now());
    if (!card) throw unknownInstrument(instrument);
    return card;
  }

  questions(): Promise<InstrumentQuestionView[]> {
    return openQuestions(this.reader.manager);
  }

  calibration(calibration: string): Promise<CalibrationView> {
    return calibrationOrRefuse(this.reader.manager, calibration);
  }
}

const MEANINGS: Readonly<Record<AnswerQuestionDto['conclusion'], string>> = {
  'no-effect': 'I have looked at what this instrument judged since it was last known good, and it still stands',
  contained: 'I have looked at what this instrument judged since it was last known good, and what may be wrong is contained',
};

export async function calibrationOrRefuse(from: EntityManager, calibration: string): Promise<CalibrationView> {
  const view = await calibrationView(from, calibration);
  if (!view) throw new Refusal('unknown', [{ code: 'calibration-unknown', detail: `no calibration ${calibration}`, calibration }]);
  return view;
}
