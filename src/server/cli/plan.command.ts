import { Command, InvalidArgumentError, Option } from 'commander';
import { BASES } from '../../../shared/sampling/aql.js';
import { LEVELS } from '../../../shared/sampling/code-letter.js';
import { samplingPlan } from '../../../shared/sampling/plan.js';
import { checkedQuestion, type PlanQuestion } from '../../../shared/sampling/question.js';
import { SEVERITIES } from '../../../shared/sampling/tables.js';
import { optionsOf } from './context.js';
import { planInWords } from './plan-in-words.js';
import { answer } from './say.js';

const whole = (text: string): number => {
  if (!/^\d+$/.test(text)) throw new InvalidArgumentError('a lot size is a whole number');
  return Number(text);
};

export const planCommand = (): Command =>
  new Command('plan')
    .description('sampling plan of ISO 2859-1:1999 for a lot; needs no plant')
    .requiredOption('--lot-size <items>', 'items in the lot', whole)
    .addOption(new Option('--level <level>', 'inspection level').choices(LEVELS).makeOptionMandatory())
    .requiredOption('--aql <number>', 'acceptance quality limit, one of the 26 of the standard')
    .addOption(new Option('--severity <severity>').choices(SEVERITIES).default('normal'))
    // Multiple plans are a thing that is asked for rightly and refused with the reason, so they are no wrong usage.
    .addOption(new Option('--type <type>', 'multiple is not offered').choices(['single', 'double', 'multiple']).default('single'))
    .addOption(new Option('--basis <basis>', 'what the AQL counts (default: items up to AQL 10, nonconformities above)').choices(BASES))
    .action((_own: PlanQuestion, command: Command) => {
      const { json, ...question } = optionsOf<PlanQuestion>(command);
      const found = samplingPlan(question);
      answer(json ? JSON.stringify(found, null, 2) : planInWords(checkedQuestion(question), found));
    });
