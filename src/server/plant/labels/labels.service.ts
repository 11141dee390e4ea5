import { Inject, Injectable } from '@nestjs/common';
import type { Readable } from 'node:stream';
import { PassThrough } from 'node:stream';
import { Reasons } from '../../../../shared/refusal.js';
import { type Label, labelOf } from '../../documents/label.model.js';
import { writeLabelsPdf } from '../../documents/pdf/write-labels.js';
import { Clock } from '../../platform/clock.js';
import { CONFIG, type Config } from '../../platform/config.js';
import { Reader } from '../../platform/database/reader.js';
import type { LabelQueryDto } from './labels.dto.js';
import { labelSubject, lotOfUnit, lotsOfDelivery, type Printing } from './labels.query.js';

/** More labels than this at once are a slip of the finger, and a printer would run for an hour. */
const MOST_LABELS = 1000;

/** Prints labels. Reads only: that a label was printed changes nothing in the record. */
@Injectable()
export class LabelsService {
  constructor(
    private readonly reader: Reader,
    @Inject(Clock) private readonly clock: Clock,
    @Inject(CONFIG) private readonly config: Config,
  ) {}

  /**
   * The labels of every lot of a delivery, line by line.
   * @throws Refusal when there is no such delivery, it was booked in error, or so many labels are asked for that it must be a slip
   */
  async ofDelivery(delivery: string, asked: LabelQueryDto): Promise<Readable> {
    const no = new Reasons();
    const found = await lotsOfDelivery(this.reader.manager, delivery);
    if (!found) no.unknown('delivery-unknown', `no delivery ${delivery}`, { delivery });
    if (found?.reversed) no.conflict('delivery-reversed', `${delivery} was booked in error: its lots are none`, { delivery });
    const count = (found?.lots.length ?? 0) * (asked.copies ?? 1);
    if (count > MOST_LABELS) no.conflict('too-many-labels', `${count} labels at once; ${MOST_LABELS} are the most`, { count });
    no.throwIfAny();
    const labels: Label[] = [];
    for (const lot of found!.lots) labels.push((await this.#label(lot))!);
    return this.#print(labels, asked, `Labels of delivery ${delivery}`);
  }

  /** @throws Refusal when there is no such lot */
  async ofLot(lot: string, asked: LabelQueryDto): Promise<Readable> {
    const label = await this.#label(lot);
    const no = new Reasons();
    if (!label) no.unknown('lot-unknown', `no lot ${lot}`, { lot });
    no.throwIfAny();
    return this.#print([label!], asked, `Label of lot ${lot}`);
  }

  /** @throws Refusal when the item has no such unit */
  async ofUnit(item: string, serial: string, asked: LabelQueryDto): Promise<Readable> {
    const lot = await lotOfUnit(this.reader.manager, item, serial);
    const no = new Reasons();
    if (lot === undefined) no.unknown('serial-unknown', `no unit ${serial} of ${item}`, { item, serial });
    no.throwIfAny();
    return this.#print([(await this.#label(lot!, serial))!], asked, `Label of unit ${serial}`);
  }

  async #label(lot: string, serial: string | null = null): Promise<Label | undefined> {
    const { plantName, demo } = this.config;
    const printing: Printing = { plantName, demo, printedOn: this.clock.now().slice(0, 10) };
    const subject = await labelSubject(this.reader.manager, printing, lot, serial);
    return subject && labelOf(subject);
  }

  #print(labels: readonly Label[], { sheet = 'roll', copies = 1 }: LabelQueryDto, title: string): Readable {
    const all = labels.flatMap((label) => Array.from({ length: copies }, () => label));
    const out = new PassThrough({ highWaterMark: 256 * 1024 });
    const file = { title, author: this.config.plantName, madeAt: this.clock.now() };
    writeLabelsPdf(all, sheet, file, out).catch((error: Error) => out.destroy(error));
    return out;
  }
}
