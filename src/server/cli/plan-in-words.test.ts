import { expect, it } from 'vitest';
import { samplingPlan } from '../../../shared/sampling/plan.js';
import { checkedQuestion, type PlanQuestion } from '../../../shared/sampling/question.js';
import { planInWords } from './plan-in-words.js';

const said = (over: Partial<PlanQuestion>): readonly string[] => {
  const question = { lotSize: 1200, level: 'II', aql: '1', ...over };
  return planInWords(checkedQuestion(question), samplingPlan(question)).split('\n');
};

it('says a single plan', () => {
  expect(said({})).toEqual([
    'ISO 2859-1:1999, single plan, normal inspection (Table 2-A)',
    'Lot of 1200 items, level II: code letter J. AQL 1.0 per cent nonconforming items.',
    'Take 80 items: letter J, n 80, Ac 2, Re 3.',
    'Accept with 2 or fewer nonconforming items, do not accept with 3 or more.',
  ]);
});

it('says the arrow, and why every item is inspected', () => {
  expect(said({ lotSize: 10, aql: '0.10' }).slice(2)).toEqual([
    'Table 2-A has an arrow down at B: the first plan below it is that of letter K.',
    'Inspect every item. Letter K, Ac 0, Re 1.',
    'Accept with no nonconforming items, do not accept with 1 or more.',
    'Every item, because the sample is 125 and the lot has 10: a sample that reaches the lot means every item is inspected.',
  ]);
});

it('says when the second sample is taken, and what is not verified', () => {
  expect(said({ type: 'double', aql: '1.5' }).slice(2)).toEqual([
    'Take 50 items: letter J, n1 50, Ac1 1, Re1 3, n2 50, Ac2 4, Re2 5.',
    'Accept with 1 or fewer nonconforming items, do not accept with 3 or more; with 2, take 50 items more.',
    'In both samples together, accept with 4 or fewer nonconforming items, do not accept with 5 or more.',
    expect.stringMatching(/^Not verified: no readable source prints the double plan/),
  ]);
});

it('says that a single plan stands for a double one, and counts nonconformities above AQL 10', () => {
  expect(said({ lotSize: 8, type: 'double', aql: '40' }).slice(1)).toEqual([
    'Lot of 8 items, level II: code letter A. AQL 40 nonconformities per 100 items.',
    'Table 3-A has an asterisk at A: the single plan is used there.',
    'Take 2 items: letter A, n 2, Ac 2, Re 3.',
    'Accept with 2 or fewer nonconformities, do not accept with 3 or more.',
  ]);
});

it('says of a double plan that reaches the lot what decides about all of it', () => {
  expect(said({ lotSize: 4, level: 'III', type: 'double', aql: '15' }).slice(2)).toEqual([
    'Inspect every item. Letter B, n1 2, Ac1 0, Re1 2, n2 2, Ac2 1, Re2 2.',
    'In all of them, accept with 1 or fewer nonconformities, do not accept with 2 or more.',
    'Every item, because both samples come to 4 and the lot has 4: a sample that reaches the lot means every item is inspected.',
  ]);
});
