import { Injectable } from '@nestjs/common';
import { Refusal } from '../../../../shared/refusal.js';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import { Reader } from '../../platform/database/reader.js';
import { Lineage } from '../../trace/lineage.js';
import { type Command, Commands } from '../commands.js';
import type { Actor } from '../people/access.js';
import { decideCorrect } from './corrections.decide.js';
import { decideCount } from './counts.decide.js';
import {
  decideDestroyInTest,
  decideMove,
  decideRetain,
  decideReturnToSupplier,
  decideScrap,
  decideTakeBack,
  type StockState,
} from './documents.decide.js';
import type {
  CorrectStockDto,
  CountStockDto,
  DestroyInTestDto,
  MoveStockDto,
  RetainSampleDto,
  ReturnToSupplierDto,
  ScrapStockDto,
  StockDocumentView,
  StockPartDto,
  TakeBackSampleDto,
} from './documents.dto.js';
import type { StockFact } from './documents.facts.js';
import { checkNamed } from './named.query.js';
import { earlierDocument, stockDocument, stockDocuments, stockState } from './documents.query.js';

/** A DTO with its piece numbers and quantity understood. */
const understood = <Dto extends StockPartDto>({ pieces, quantity, ...rest }: Dto) => ({
  ...rest,
  spans: givenSpans(pieces),
  quantityMicro: givenQuantity(quantity),
});

const from = (dto: StockPartDto): string[] => (dto.from === undefined ? [] : [dto.from]);

/** Moves, counts, scrap, samples, tests and returns to the supplier: documents that move stock and nothing else. */
@Injectable()
export class StockDocumentsService {
  constructor(
    private readonly commands: Commands,
    private readonly lineage: Lineage,
    private readonly reader: Reader,
  ) {}

  move(actor: Actor, dto: MoveStockDto): Promise<StockDocumentView> {
    return this.#record(actor, dto, 'MV', dto.lot, [dto.to, ...from(dto)], (state) => decideMove(understood(dto), state));
  }

  scrap(actor: Actor, dto: ScrapStockDto): Promise<StockDocumentView> {
    return this.#record(actor, dto, 'SC', dto.lot, from(dto), (state) => decideScrap(understood(dto), state));
  }

  destroyInTest(actor: Actor, dto: DestroyInTestDto): Promise<StockDocumentView> {
    return this.#record(actor, dto, 'DT', dto.lot, from(dto), (state) => decideDestroyInTest(understood(dto), state));
  }

  retain(actor: Actor, dto: RetainSampleDto): Promise<StockDocumentView> {
    return this.#record(actor, dto, 'RS', dto.lot, [dto.at, ...from(dto)], (state) => decideRetain(understood(dto), state));
  }

  takeBack(actor: Actor, dto: TakeBackSampleDto): Promise<StockDocumentView> {
    return this.#record(actor, dto, 'TB', dto.lot, [dto.to], (state) => decideTakeBack(understood(dto), state));
  }

  returnToSupplier(actor: Actor, dto: ReturnToSupplierDto): Promise<StockDocumentView> {
    return this.#record(actor, dto, 'SR', dto.lot, from(dto), (state) => decideReturnToSupplier(understood(dto), state));
  }

  count(actor: Actor, { pieces, quantity, ...dto }: CountStockDto): Promise<StockDocumentView> {
    const command = {
      ...dto,
      pieces: givenSpans(pieces),
      countedMicro: givenQuantity(quantity),
    };
    return this.#record(actor, { ...dto, pieces, quantity } as Command, 'CN', dto.lot, [dto.location], (state) =>
      decideCount(command, state),
    );
  }

  correct(actor: Actor, dto: CorrectStockDto): Promise<StockDocumentView> {
    return this.commands.run(actor, dto, async (tx, record, at) => {
      const earlier = await earlierDocument(tx, dto.corrects);
      const state = await stockState(tx, this.lineage, { series: 'SK', lot: earlier?.lot ?? '', places: [], at });
      await record([decideCorrect(dto, { ...state, earlier })]);
      return (await stockDocument(tx, state.document))!;
    });
  }

  async documents(lot: string | undefined): Promise<StockDocumentView[]> {
    await checkNamed(this.reader.manager, { lot });
    return stockDocuments(this.reader.manager, lot, 200);
  }

  async document(code: string): Promise<StockDocumentView> {
    const view = await stockDocument(this.reader.manager, code);
    if (!view) throw new Refusal('unknown', [{ code: 'document-unknown', detail: `no stock document ${code}`, document: code }]);
    return view;
  }

  #record(
    actor: Actor,
    command: Command,
    series: string,
    lot: string,
    places: readonly string[],
    decide: (state: StockState) => StockFact,
  ): Promise<StockDocumentView> {
    return this.commands.run(actor, command, async (tx, record, at) => {
      const state = await stockState(tx, this.lineage, { series, lot, places, at });
      await record([decide(state)]);
      return (await stockDocument(tx, state.document))!;
    });
  }
}
