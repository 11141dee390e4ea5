import type { Reasons } from '../../../../shared/refusal.js';
import { givenQuantity, givenSpans } from '../../platform/http/given.js';
import type { AskCharge } from './charging.decide.js';
import { chargesBySerial, type FoundSerial } from './fitting.decide.js';
import type { ChargeDto, ReturnDto } from './run.dto.js';
import type { AskReturn } from './uncharging.decide.js';

/** Serials that charges name, to be looked up before they are understood. */
export const serialsAsked = (charges: readonly ChargeDto[]): { item: string; serials: readonly string[] }[] =>
  charges.flatMap((charge) => (charge.serials && charge.item !== undefined ? [{ item: charge.item, serials: charge.serials }] : []));

/** Charges of a request as the decision takes them: quantities and pieces understood, serials found. */
export function askedCharges(
  no: Reasons,
  charges: readonly ChargeDto[],
  found: readonly FoundSerial[],
  defaults: { readonly at: string; readonly by: string },
): AskCharge[] {
  return charges.flatMap((dto, i) => {
    const pointer = `/charges/${i}`;
    const rest = {
      unit: dto.unit,
      step: dto.step,
      chargedAt: dto.chargedAt ?? defaults.at,
      by: dto.by ?? defaults.by,
      from: dto.from,
      fromPiece: dto.fromPiece,
      intoPieces: givenSpans(dto.intoPieces),
      map: dto.map,
      massMicro: givenQuantity(dto.mass),
      deviationReason: dto.deviationReason,
    };
    if (dto.serials !== undefined) {
      if (dto.item === undefined) no.malformed('item-missing', 'serials of which item?', { pointer: `${pointer}/item` });
      return chargesBySerial(no, { item: dto.item ?? '', serials: dto.serials, intoPieces: rest.intoPieces }, found, rest, pointer);
    }
    if (dto.lot === undefined) {
      no.malformed('lot-missing', 'which lot, or which serials?', { pointer: `${pointer}/lot` });
      return [];
    }
    return [{ ...rest, lot: dto.lot, spans: givenSpans(dto.pieces), quantityMicro: givenQuantity(dto.quantity) }];
  });
}

export const askedReturns = (returns: readonly ReturnDto[]): AskReturn[] =>
  returns.map((dto) => ({
    charge: dto.charge,
    location: dto.location,
    spans: givenSpans(dto.pieces),
    quantityMicro: givenQuantity(dto.quantity),
  }));
