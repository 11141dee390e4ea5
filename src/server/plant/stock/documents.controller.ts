import { Body, Controller, Get, Param, Post, Query } from '@nestjs/common';
import { type Actor, CurrentActor, EVERYONE, May } from '../people/access.js';
import {
  CorrectStockDto,
  CountStockDto,
  DestroyInTestDto,
  MoveStockDto,
  RetainSampleDto,
  ReturnToSupplierDto,
  ScrapStockDto,
  StockDocumentView,
  TakeBackSampleDto,
} from './documents.dto.js';
import { StockDocumentsService } from './documents.service.js';

@Controller('stock')
export class StockDocumentsController {
  constructor(private readonly stock: StockDocumentsService) {}

  /** Carries a part of a lot from one location to another; the lot stays the same lot. */
  @Post('moves')
  @May('clerk', 'operator', 'dispatcher', 'inspector', 'quality')
  moveStock(@CurrentActor() actor: Actor, @Body() body: MoveStockDto): Promise<StockDocumentView> {
    return this.stock.move(actor, body);
  }

  /** Records what was found at a location, and the difference to the record with its reason. */
  @Post('counts')
  @May('clerk', 'dispatcher', 'quality')
  countStock(@CurrentActor() actor: Actor, @Body() body: CountStockDto): Promise<StockDocumentView> {
    return this.stock.count(actor, body);
  }

  /** Scraps a part of a lot, with reason and evidence. */
  @Post('scrap')
  @May('operator', 'quality')
  scrapStock(@CurrentActor() actor: Actor, @Body() body: ScrapStockDto): Promise<StockDocumentView> {
    return this.stock.scrap(actor, body);
  }

  /** Keeps a part of a lot as a retain sample. */
  @Post('retains')
  @May('inspector', 'quality')
  retainSample(@CurrentActor() actor: Actor, @Body() body: RetainSampleDto): Promise<StockDocumentView> {
    return this.stock.retain(actor, body);
  }

  /** Puts a retain sample back among the stock. */
  @Post('retains/taken-back')
  @May('inspector', 'quality')
  takeBackSample(@CurrentActor() actor: Actor, @Body() body: TakeBackSampleDto): Promise<StockDocumentView> {
    return this.stock.takeBack(actor, body);
  }

  /** Records that a part of a lot was destroyed in a test. */
  @Post('tests')
  @May('inspector', 'quality')
  destroyInTest(@CurrentActor() actor: Actor, @Body() body: DestroyInTestDto): Promise<StockDocumentView> {
    return this.stock.destroyInTest(actor, body);
  }

  /** Sends a part of a received lot back to its supplier. */
  @Post('supplier-returns')
  @May('clerk', 'quality')
  returnToSupplier(@CurrentActor() actor: Actor, @Body() body: ReturnToSupplierDto): Promise<StockDocumentView> {
    return this.stock.returnToSupplier(actor, body);
  }

  /** Undoes an earlier stock document by an entry that names it; both stay readable. */
  @Post('corrections')
  @May('quality', 'administrator')
  correctStock(@CurrentActor() actor: Actor, @Body() body: CorrectStockDto): Promise<StockDocumentView> {
    return this.stock.correct(actor, body);
  }

  /** The latest 200 stock documents, newest first; only those of one lot, if named. */
  @Get('documents')
  @May(...EVERYONE)
  listStockDocuments(@Query('lot') lot?: string): Promise<StockDocumentView[]> {
    return this.stock.documents(lot);
  }

  /** One stock document. */
  @Get('documents/:document')
  @May(...EVERYONE)
  getStockDocument(@Param('document') document: string): Promise<StockDocumentView> {
    return this.stock.document(document);
  }
}
