import { formatQuantity } from '../../../../shared/quantity.js';
import { because, counted, type Known, listed, partOf, signedBy } from '../telling/words.facts.js';
import type {
  InspectionBegun,
  InspectionCalledOff,
  InspectionDecided,
  InspectionMadeUrgent,
  InspectionOpened,
  InspectionSkipped,
  ItemsInspected,
  Occasion,
  ResultRecorded,
  SamplePlan,
  Switched,
  SwitchingDecided,
  TallyTakenBack,
} from './inspection.facts.js';
import { decisionWords } from './switching.decide.js';

const FOR: Readonly<Record<Occasion, string>> = {
  delivery: 'delivery',
  run: 'run',
  return: 'return',
  resubmission: 'presented again',
  request: 'asked for',
};

export const sayInspection = {
  InspectionOpened: (fact: InspectionOpened, known: Known): string => {
    const why =
      fact.resubmits === null ? [FOR[fact.occasion], fact.source].filter(Boolean).join(' ') : `presented again after ${fact.resubmits}`;
    return `Inspection ${fact.inspection} of ${partOf(fact, known)} opened (${why})${because(fact.reason ?? undefined)}`;
  },
  InspectionBegun: (fact: InspectionBegun): string =>
    `Inspection ${fact.inspection} begun: ${fact.sample === null ? 'tests of the lot only' : sampleWords(fact.sample)}`,
  ItemsInspected: (fact: ItemsInspected): string =>
    `Inspection ${fact.inspection}, tally ${fact.tally}: ${counted(fact.conforming + fact.items.length, 'item')} looked at in the ${ORDINAL[fact.sample]} sample, ${foundWords(fact)}`,
  TallyTakenBack: (fact: TallyTakenBack): string => `Inspection ${fact.inspection}: tally ${fact.tally} taken back${because(fact.reason)}`,
  ResultRecorded: ({ inspection, result, lot, measured, retestOf, reason }: ResultRecorded): string => {
    const value = `${measured.characteristic} of ${lot} is ${formatQuantity(measured.valueMicro)} ${measured.unit}`;
    const within = measured.within ? 'within its limits' : (measured.fault ?? 'out of its limits');
    const again = retestOf === null ? '' : `; a retest that follows result ${retestOf}`;
    return `Inspection ${inspection}, result ${result}: ${value}, ${within}${again}${because(reason ?? undefined)}`;
  },
  InspectionDecided: (fact: InspectionDecided): string => {
    const verdict = fact.verdict === 'accepted' ? 'accepts' : 'does not accept';
    const why = [...fact.classes.filter((one) => one.verdict !== null).map((one) => one.because), ...fact.failed];
    const stricter = fact.stricter === null ? '' : `; stricter than the plan because ${fact.stricter}`;
    return `Inspection ${fact.inspection} ${verdict} ${fact.lot}${because(why.join('; '))}${stricter}${switchedWords(fact.switched)}`;
  },
  InspectionSkipped: (fact: InspectionSkipped): string =>
    `Inspection ${fact.inspection} skipped under urgent release ${fact.urgentRelease}${because(fact.reason)}${signedBy(fact.signature)}`,
  InspectionCalledOff: (fact: InspectionCalledOff): string => `Inspection ${fact.inspection} called off${because(fact.reason)}`,
  InspectionMadeUrgent: (fact: InspectionMadeUrgent): string => `Inspection ${fact.inspection} put before others${because(fact.reason)}`,
  SwitchingDecided: (fact: SwitchingDecided): string =>
    `Switching of ${fact.item} ${fact.supplier === null ? 'made here' : `from ${fact.supplier}`}: ${decisionWords(fact.decision)}${because(fact.reason)}${switchedWords(fact.switched)}${signedBy(fact.signature)}`,
};

const ORDINAL = { 1: 'first', 2: 'second' } as const;

function sampleWords({ edition, level, type, codeLetter, sizes, inspectAllBecause, classes }: SamplePlan): string {
  const judged = listed(classes.map((one) => `${one.class} at AQL ${one.aql}, ${one.severity}`));
  if (inspectAllBecause !== null) return `every item (${inspectAllBecause}); ${judged} (${edition})`;
  const second = sizes[1] === null ? '' : `, and ${sizes[1]} more where the first do not decide`;
  return `${counted(sizes[0], 'item')}${second}, letter ${codeLetter}, level ${level}, ${type}; ${judged} (${edition})`;
}

function foundWords({ items }: ItemsInspected): string {
  const found = items.filter((item) => item.found.length > 0);
  return found.length === 0 ? 'none nonconforming' : `${found.length} nonconforming`;
}

/** `; major inspection is tightened now`: only what has changed. */
const switchedWords = (switched: readonly Switched[]): string =>
  switched
    .filter((one) => one.before.severity !== one.after.severity)
    .map((one) => `; ${one.class} inspection is ${one.after.severity} now`)
    .join('');
