import { Controller, Get, Param, Query, StreamableFile } from '@nestjs/common';
import type { Readable } from 'node:stream';
import { EVERYONE, May } from '../people/access.js';
import { LabelQueryDto } from './labels.dto.js';
import { LabelsService } from './labels.service.js';

/** Shown in the browser, from where it is printed. */
const pdf = (file: Readable): StreamableFile =>
  new StreamableFile(file, { type: 'application/pdf', disposition: 'inline; filename="labels.pdf"' });

@Controller()
export class LabelsController {
  constructor(private readonly labels: LabelsService) {}

  /** Labels of every lot of a delivery as PDF, for a roll or for sheets of A4. */
  @Get('deliveries/:delivery/labels.pdf')
  @May(...EVERYONE)
  async getDeliveryLabels(@Param('delivery') delivery: string, @Query() query: LabelQueryDto): Promise<StreamableFile> {
    return pdf(await this.labels.ofDelivery(delivery, query));
  }

  /** The label of a lot as PDF, for a roll or for sheets of A4. */
  @Get('lots/:lot/labels.pdf')
  @May(...EVERYONE)
  async getLotLabels(@Param('lot') lot: string, @Query() query: LabelQueryDto): Promise<StreamableFile> {
    return pdf(await this.labels.ofLot(lot, query));
  }

  /** The label of a unit with a serial number of its own as PDF. */
  @Get('units/:item/:serial/label.pdf')
  @May(...EVERYONE)
  async getUnitLabel(@Param('item') item: string, @Param('serial') serial: string, @Query() query: LabelQueryDto): Promise<StreamableFile> {
    return pdf(await this.labels.ofUnit(item, serial, query));
  }
}
