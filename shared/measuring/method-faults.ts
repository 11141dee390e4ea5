import { MICRO } from '../quantity.js';
import { MeasurementFault } from './measurement-fault.js';
import type { LabMicro, Method, NetContentMethod } from './method.js';
import { tolerableDeficiency } from './tolerable-deficiency.js';

// Fluorescent colours may pass L* 100; what lies beyond these is a misread column.
const LIGHTEST = 150 * MICRO;
const FARTHEST = 300 * MICRO;

/**
 * What is wrong with a method as a plan revision gives it, before anything is read by it.
 * @returns every fault, with a pointer into the method; none when results can be computed by it
 */
export function methodFaults(method: Method): MeasurementFault[] {
  if (method.kind === 'colour-difference') return labFaults(method.standard, '/standard');
  if (method.kind === 'net-content') return netContentFaults(method);
  return [];
}

/** What is wrong with a colour: coordinates that no instrument gives. */
export function labFaults({ lMicro, aMicro, bMicro }: LabMicro, at: string): MeasurementFault[] {
  const faults: MeasurementFault[] = [];
  const expectBetween = (value: number, least: number, name: string, most: number) => {
    if (value >= least && value <= most) return;
    faults.push(new MeasurementFault(`${name} lies from ${least / MICRO} to ${most / MICRO}`, `${at}/${name}`));
  };
  expectBetween(lMicro, 0, 'l', LIGHTEST);
  expectBetween(aMicro, -FARTHEST, 'a', FARTHEST);
  expectBetween(bMicro, -FARTHEST, 'b', FARTHEST);
  return faults;
}

function netContentFaults({ nominalMicro, unit, densityMicro, rules }: NetContentMethod): MeasurementFault[] {
  const faults: MeasurementFault[] = [];
  const volume = unit === 'mL' || unit === 'L';
  try {
    tolerableDeficiency(nominalMicro * (unit === 'kg' || unit === 'L' ? 1_000 : 1));
  } catch (error) {
    if (!(error instanceof MeasurementFault)) throw error;
    faults.push(error);
  }
  if (densityMicro !== undefined && (!volume || !(densityMicro > 0))) {
    faults.push(new MeasurementFault(volume ? 'a density is more than nothing' : 'a density is only for a content in volume', '/density'));
  }
  if (
    rules.set === 'packer' &&
    rules.allowedShort !== undefined &&
    !(Number.isSafeInteger(rules.allowedShort) && rules.allowedShort >= 0)
  ) {
    faults.push(new MeasurementFault('how many may be short is a whole number', '/rules/allowedShort'));
  }
  return faults;
}
