import { Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { Reader } from '../../platform/database/reader.js';
import type { TraceView } from '../../trace/trace.dto.js';
import { TraceService } from '../../trace/trace.service.js';
import { catalogueByCode } from '../catalogue/catalogue.query.js';
import { LATEST } from '../holds/holds.query.js';
import type { AsFound, CalibrationResult } from './instrument.facts.js';
import type { CalibrationView } from './instruments.dto.js';
import { calibrationOrRefuse, unknownInstrument } from './instruments.service.js';
import type { JudgedView } from './judged.dto.js';
import { judgedLots, judgedResults } from './judged.query.js';
import { doubtBefore, raisesDoubt, restedOn, type CalibrationThen } from './known-good.decide.js';
import { standingCalibrations } from './known-good.query.js';
import { questionOf } from './questions.query.js';

/** What an instrument judged while nobody could vouch for it, and what became of that. Reads only. */
@Injectable()
export class JudgedService {
  constructor(
    private readonly reader: Reader,
    private readonly traces: TraceService,
  ) {}

  /** @throws Refusal for an instrument or calibration the record does not know, and where none is named and none puts it in doubt */
  async judged(instrument: string, named: string | undefined): Promise<JudgedView> {
    const from = this.reader.manager;
    if (!(await catalogueByCode(from, 'instrument', [instrument])).has(instrument)) throw unknownInstrument(instrument);
    const calibrations = await standingCalibrations(from, instrument, LATEST);
    const calibration = await this.#calibration(instrument, named ?? latestDoubt(instrument, calibrations));
    const time = calibration.voided
      ? restedOn(calibrations, { ...calibration, asFound: calibration.asFound as AsFound, result: calibration.result as CalibrationResult })
      : doubtBefore(calibrations, calibration.calibration);
    const lots = await judgedLots(from, instrument, time);
    return {
      instrument,
      calibration,
      question: (await questionOf(from, calibration.calibration)) ?? null,
      time,
      results: await judgedResults(from, instrument, time),
      lots,
      trace: lots.length === 0 ? null : await this.#trace(instrument, time),
    };
  }

  async #calibration(instrument: string, code: string): Promise<CalibrationView> {
    const calibration = await calibrationOrRefuse(this.reader.manager, code);
    if (calibration.instrument === instrument) return calibration;
    throw new Refusal('conflict', [
      { code: 'calibration-of-other', detail: `${code} is a calibration of ${calibration.instrument}`, pointer: '/calibration' },
    ]);
  }

  async #trace(instrument: string, { from, to }: { readonly from: string | null; readonly to: string | null }): Promise<TraceView> {
    const window = { from: from ?? FIRST_INSTANT, to: to ?? LAST_INSTANT };
    return (await this.traces.trace({ instrument, ...window, direction: 'forward', whereabouts: true })) as unknown as TraceView;
  }
}

const FIRST_INSTANT = '0001-01-01T00:00:00.000Z';
const LAST_INSTANT = '9999-12-31T23:59:59.999Z';

function latestDoubt(instrument: string, calibrations: readonly CalibrationThen[]): string {
  const latest = calibrations.findLast(raisesDoubt);
  if (latest) return latest.calibration;
  throw new Refusal('conflict', [
    { code: 'never-in-doubt', detail: `no calibration puts ${instrument} in doubt: name the one to ask about`, instrument },
  ]);
}
