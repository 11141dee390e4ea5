import { methodFaults } from '../../../../shared/measuring/method-faults.js';
import type { Method, NetContentMethod } from '../../../../shared/measuring/method.js';
import { formatQuantity } from '../../../../shared/quantity.js';
import type { Reasons } from '../../../../shared/refusal.js';
import type { Item } from './catalogue.facts.js';
import type { MeasuredCharacteristic } from './inspection-plan.facts.js';

/** Readings that make one result: replicates of a test, or packages of a net content check. */
const MOST_REPLICATES = 50;
const MOST_PACKAGES = 500;

/**
 * Everything wrong with a measured characteristic.
 * @param item the item the plan is for; undefined where there is none
 * @see docs/rules/inspection-plans.md IP-5 to IP-9
 */
export function measuredFaults(no: Reasons, one: MeasuredCharacteristic, item: Item | undefined, pointer: string): void {
  const { code, per, items, compute, instrumentKind, instrumentRequired } = one;
  unitFaults(no, one, pointer);
  limitFaults(no, one, pointer);
  replicateFaults(no, one, pointer);
  methodFaultsOf(no, one, item, pointer);
  if (compute.kind === 'net-content') contentFaults(no, one, compute, item, pointer);
  if (items !== undefined && per === 'lot') {
    no.conflict('items-not-here', `${code} is measured on the lot, not on items`, { pointer: `${pointer}/items` });
  }
  if (instrumentKind !== undefined && !instrumentRequired) {
    no.conflict('instrument-kind-for-nothing', `a result of ${code} names no instrument, so it cannot be of a kind`, {
      pointer: `${pointer}/instrumentRequired`,
    });
  }
}

function unitFaults(no: Reasons, { code, unit, compute }: MeasuredCharacteristic, pointer: string): void {
  const given = unitOfMethod(compute);
  if (unit === '') {
    no.malformed('unit-missing', `say in which unit ${code} is measured`, { pointer: `${pointer}/unit` });
  } else if (given !== undefined && compute.kind !== 'colour-difference' && unit !== given) {
    no.conflict('unit-of-method', `${compute.kind} gives ${given}, not ${unit}`, { pointer: `${pointer}/unit` });
  }
}

function limitFaults(no: Reasons, one: MeasuredCharacteristic, pointer: string): void {
  const { code, lowerMicro, upperMicro, targetMicro, compute, rounding } = one;
  if (lowerMicro === undefined && upperMicro === undefined && compute.kind !== 'net-content') {
    no.malformed('limit-missing', `${code} needs a lower or an upper limit`, { pointer });
  }
  const [lower, upper] = [lowerMicro ?? -Infinity, upperMicro ?? Infinity];
  if (lower > upper) no.malformed('limits-reversed', `the lower limit of ${code} is above the upper one`, { pointer: `${pointer}/lower` });
  else if (targetMicro !== undefined && (targetMicro < lower || targetMicro > upper)) {
    no.malformed('target-outside-limits', `the target of ${code} is outside its limits`, { pointer: `${pointer}/target` });
  }
  const stepMicro = 10 ** (6 - rounding.decimals);
  for (const [name, limit] of [['lower', lowerMicro] as const, ['upper', upperMicro] as const]) {
    if (limit === undefined || limit % stepMicro === 0) continue;
    const detail = `results of ${code} are rounded to ${rounding.decimals} decimals, the limit ${formatQuantity(limit)} has more`;
    no.conflict('limit-finer-than-result', detail, { pointer: `${pointer}/${name}` });
  }
}

function replicateFaults(no: Reasons, { code, compute, replicates }: MeasuredCharacteristic, pointer: string): void {
  const refuse = (why: string): void => no.conflict('replicates-do-not-fit', why, { pointer: `${pointer}/replicates` });
  if (compute.kind === 'single' && replicates !== 1) refuse('a single reading is one: several make a mean or a range');
  if (compute.kind === 'range' && replicates === 1) refuse(`the range of ${code} needs at least two readings`);
  if (compute.kind === 'net-content' && compute.rules.set === 'reference' && replicates !== 1) {
    refuse('how many packages the reference test takes depends on the batch: leave the readings out');
  }
  const most = compute.kind === 'net-content' ? MOST_PACKAGES : MOST_REPLICATES;
  if (replicates > most) refuse(`a result of ${code} is made of at most ${most} readings`);
}

function methodFaultsOf(no: Reasons, { code, compute }: MeasuredCharacteristic, item: Item | undefined, pointer: string): void {
  // A nominal quantity that is left out is the item's; nothing is left of it where the item has none.
  if (compute.kind === 'net-content' && compute.nominalMicro === 0 && (!item || labelContentMicro(item, compute.unit) === undefined)) {
    const detail = `say the quantity on the label for ${code}: the item gives no content in that unit`;
    no.malformed('nominal-missing', detail, { pointer: `${pointer}/compute/nominal` });
    return;
  }
  for (const fault of methodFaults(compute)) no.malformed('method-wrong', fault.message, { pointer: `${pointer}/compute${fault.at}` });
}

/** Net content is judged on packages of a lot, against the label; the label agrees with the item as it stands. */
function contentFaults(no: Reasons, one: MeasuredCharacteristic, method: NetContentMethod, item: Item | undefined, pointer: string): void {
  if (one.per === 'item') {
    no.conflict('content-of-one', 'net content is judged on packages together: it is a test of the lot', { pointer: `${pointer}/per` });
  }
  if (!item) return;
  if (item.unit !== 'each') {
    no.conflict('no-packages-here', `${item.code} is counted in ${item.unit}, not in packages`, { pointer: `${pointer}/compute` });
  }
  const ofItem = labelContentMicro(item, method.unit);
  if (ofItem !== undefined && method.nominalMicro !== ofItem) {
    // Said in kilograms, as the item has it: the content of any item can be written so, whatever the label is in.
    const [said, known] = [`${formatQuantity(method.nominalMicro)} ${method.unit}`, `${formatQuantity(item.contentMicro!)} kg`];
    no.conflict('nominal-differs', `the plan says ${said}, the content of ${item.code} is ${known}`, {
      pointer: `${pointer}/compute/nominal`,
    });
  }
}

/** The unit in which a method gives its value; undefined where it is that of the readings. */
export function unitOfMethod(method: Method): string | undefined {
  if (method.kind === 'density') return 'kg/L';
  if (method.kind === 'colour-difference') return 'ΔE00';
  return method.kind === 'net-content' ? method.unit : undefined;
}

/**
 * What one package of an item holds by its record, in millionths of the unit of the label.
 * @returns undefined where the item says nothing, or the label is in litres: the content of an item is a mass
 */
export function labelContentMicro(item: Pick<Item, 'contentMicro'>, unit: NetContentMethod['unit']): number | undefined {
  if (item.contentMicro === undefined) return undefined;
  if (unit === 'kg') return item.contentMicro;
  return unit === 'g' ? item.contentMicro * 1000 : undefined;
}
