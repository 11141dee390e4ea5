import { Inject, Injectable } from '@nestjs/common';
import { parseQuantity } from '../../../../shared/quantity.js';
import { parseSpans } from '../../../../shared/spans.js';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Lineage } from '../../trace/lineage.js';
import { Commands } from '../commands.js';
import { openInspections } from '../inspection/opening.query.js';
import type { Actor } from '../people/access.js';
import { askedCharges, askedReturns, serialsAsked } from './asked-charges.js';
import { understoodChangeovers } from './changeover.decide.js';
import { decideClose, yieldedBy } from './closing.decide.js';
import type { CloseRunDto, CorrectRunDto, NetWeightsDto } from './closing.dto.js';
import { closingState, entriesOfRun, standingLinks } from './closing.query.js';
import { decideCorrectRun } from './correcting.decide.js';
import { fittedByCharge } from './fitting.decide.js';
import type { NetWeights } from './run.facts.js';
import { asCharged, type RunState } from './run-state.facts.js';
import { gathered, runOrRefuse } from './run.service.js';
import { chargingState, knownLocations } from './run-state.query.js';
import type { RunView } from './run-view.dto.js';
import { runView } from './run-view.query.js';
import { findSerials } from './serials.query.js';
import { lastBatches } from './vessel.query.js';

const weightsOf = (dto: NetWeightsDto): NetWeights => ({
  count: dto.count,
  meanMicro: parseQuantity(dto.mean),
  sdMicro: parseQuantity(dto.sd),
  minMicro: parseQuantity(dto.min),
  maxMicro: parseQuantity(dto.max),
});

/** Closing runs, and putting the record of closed ones right. */
@Injectable()
export class ClosingService {
  constructor(
    private readonly commands: Commands,
    private readonly lineage: Lineage,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  close(actor: Actor, code: string, dto: CloseRunDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const run = await runOrRefuse(tx, code);
      const fitted = (dto.fitted ?? []).map((one) => ({ ...one, intoPieces: parseSpans(one.intoPieces) }));
      const found = await findSerials(tx, fitted);
      const told = gathered((no) => ({
        changeovers: understoodChangeovers(no, asChangeovers(dto, at), run, at),
        fitted: fitted.flatMap((one, i) => fittedByCharge(no, run, one, found, `/fitted/${i}`)),
      }));
      const command = {
        ...told,
        finishedAt: dto.finishedAt ?? at,
        lot: dto.lot,
        quantityMicro: givenQuantity(dto.quantity),
        pieces: dto.pieces,
        location: dto.location,
        serials: dto.serials,
        rejected: givenSpans(dto.rejected),
        rejectReason: dto.rejectReason,
        netWeights: dto.netWeights && weightsOf(dto.netWeights),
        deviationReason: dto.deviationReason,
        note: dto.note,
      };
      const closed = decideClose(command, await closingState(tx, run, command, this.config.lotPattern, at));
      await record([closed]);
      await openInspections(tx, record, 'run', code, yieldedBy(closed));
      return (await runView(tx, code))!;
    });
  }

  correct(actor: Actor, code: string, dto: CorrectRunDto): Promise<RunView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const run = await runOrRefuse(tx, code);
      const found = await findSerials(tx, serialsAsked(dto.charges ?? []));
      const defaults = { at: run.finishedAt ?? at, by: actor.person };
      const charges = gathered((no) => askedCharges(no, dto.charges ?? [], found, defaults));
      const returns = askedReturns(dto.returns ?? []);
      const back = run.charges.filter((charge) => returns.some((one) => one.charge === charge.charge)).map((charge) => charge.lot);
      const wanted = [...charges.map((ask) => ({ lot: ask.lot, spans: ask.spans ?? null })), ...back.map((lot) => ({ lot, spans: null }))];
      const state = await chargingState(tx, this.lineage, run, wanted, at);
      const known = await knownLocations(
        tx,
        returns.flatMap((one) => (one.location === undefined ? [] : [one.location])),
      );
      const late = charges.map((ask) => asCharged(lateCharge(ask.lot, state.lots.get(ask.lot)?.item ?? '')));
      const all: RunState = { ...run, changeovers: [], charges: [...run.charges, ...late] };
      const changeovers = gathered((no) => dto.changeovers && understoodChangeovers(no, asChangeovers(dto, run.finishedAt ?? at), all, at));
      const vessels = await lastBatches(
        tx,
        run.charges.map((charge) => charge.takenFrom),
      );
      const correcting = { ...state, known, vessels, standing: await standingLinks(tx, code), entries: await entriesOfRun(tx, code) };
      await record([decideCorrectRun({ corrects: dto.corrects, reason: dto.reason, returns, charges, changeovers }, correcting)]);
      return (await runView(tx, code))!;
    });
  }
}

const asChangeovers = ({ changeovers = [] }: Pick<CloseRunDto, 'changeovers'>, at: string) =>
  changeovers.map((one) => ({ lot: one.lot, fromPiece: one.fromPiece, changedAt: one.changedAt ?? at }));

/** Stands in for a charge that the same correction makes, so that a changeover may name its lot. */
const lateCharge = (lot: string, item: string) => ({
  charge: 0,
  step: null,
  lot,
  item,
  spans: null,
  quantityMicro: 1,
  massMicro: 0,
  chargedAt: '',
  by: '',
  heel: false,
  into: [],
  deviations: [],
  deviationReason: null,
  urgentReleases: [],
  conversion: null,
  takenFrom: '',
});
