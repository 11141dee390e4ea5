import { account } from './nonconformance.account.js';
import { containment } from './nonconformance.containment.js';
import { decided } from './nonconformance.dispositions.js';
import { learned } from './nonconformance.learning.js';
import { filesAndPhotographs, ledgerPosition, timeline } from './nonconformance.proof.js';
import { amountOf, part, partColumns, partCells, personText } from './nonconformance.words.js';
import type { NonconformanceReport } from './nonconformance.types.js';
import type { Block, Sheet, Stamp } from './sheet.model.js';
import { capital, writtenCount, writtenHash, writtenInstant } from '../../../shared/written.js';

/**
 * A nonconformance report, as a sheet. Pure: the same report gives the same sheet.
 * @see docs/rules/nonconformance.md NR-50 to NR-54
 */
export function nonconformanceSheet(report: NonconformanceReport): Sheet {
  const { asKnownAt } = report;
  return {
    title: `Nonconformance report ${report.report}: ${report.requirement}`,
    reference: report.report,
    proof:
      `As known at ledger entry ${writtenCount(asKnownAt.seq)}, ${writtenInstant(asKnownAt.at)}, ` +
      `chain hash ${writtenHash(asKnownAt.hash, 16)}`,
    // A caution on every page: nobody who holds one page of it may miss that people can be hurt.
    pageStamp: report.severity === 'critical' ? { word: 'Critical', look: 'held' } : null,
    madeAt: asKnownAt.at,
    author: report.plantName,
    blocks: [
      titleBlock(report),
      caution(report),
      ...whatWasFound(report),
      ...affected(report),
      ...containment(report),
      ...account(report),
      ...decided(report),
      ...learned(report),
      ...filesAndPhotographs(report),
      ...timeline(report),
      ...ledgerPosition(report),
    ],
  };
}

const STAMPS: Readonly<Record<string, Stamp['look']>> = { closed: 'released', verified: 'released', withdrawn: 'muted' };

function titleBlock(report: NonconformanceReport): Block {
  return {
    kind: 'title',
    crumb: `Nonconformance report · ${report.plantName}`,
    code: report.report,
    title: report.requirement,
    stamps: [{ word: report.state, look: STAMPS[report.state] ?? 'open' }],
    numbers: [
      { label: 'Severity', value: capital(report.severity), accent: report.severity === 'critical' },
      { label: 'Affected', value: affectedInAll(report) },
      { label: 'Lots', value: writtenCount(report.accounts.length) },
      report.state === 'withdrawn'
        ? { label: 'Dispositions', value: 'None needed' }
        : { label: 'Dispositions', value: report.addsUp ? 'Add up' : 'Do not add up', accent: !report.addsUp },
    ],
  };
}

function affectedInAll({ accounts }: NonconformanceReport): string {
  const units = new Map<string, number>();
  for (const { unit, affectedMicro } of accounts) units.set(unit, (units.get(unit) ?? 0) + affectedMicro);
  return [...units].map(([unit, micro]) => amountOf(micro, unit)).join(' + ');
}

function caution({ severity }: NonconformanceReport): Block {
  const lines = [
    'Telling customers, authorities and the public in time, and keeping goods out of use, are duties of the people responsible under the law of ' +
      'each place. This report records what was decided and done; it does none of it for them.',
    'It shows the record as it stood at the ledger entry below. What was recorded later is not in it.',
  ];
  if (severity !== 'critical') return { kind: 'caution', title: 'What this report does not do', lines };
  return {
    kind: 'caution',
    title: 'Critical: people can be hurt',
    lines: [
      'Stop what is affected first, also where it was shipped already. Nothing of it is used on the word of quality alone.',
      ...lines,
    ],
  };
}

function whatWasFound(report: NonconformanceReport): Block[] {
  const { defects, measured } = report;
  return [
    { kind: 'heading', level: 2, text: 'What was found' },
    {
      kind: 'facts',
      facts: [
        { label: 'Requirement', value: report.requirement },
        { label: 'Found', value: report.found },
        { label: 'Where', value: report.source },
        { label: 'Found by', value: `${personText(report.foundBy)}, ${writtenInstant(report.foundAt)}` },
        { label: 'Raised by', value: `${personText(report.raisedBy)}, ${writtenInstant(report.raisedAt)}` },
        { label: 'Severity', value: capital(report.severity) },
        ...(measured.length === 0 ? [] : [{ label: 'Measured', value: measured.map((text) => ({ text })) }]),
      ],
    },
    ...(defects.length === 0
      ? []
      : [
          {
            kind: 'table' as const,
            summary: 'Defects found',
            columns: [
              { head: 'Defect', share: 25 },
              { head: 'Name', share: 70 },
              { head: 'Times', share: 15, align: 'right' as const },
            ],
            rows: defects.map((one) => ({
              kind: 'row' as const,
              cells: [[{ text: one.defect, look: 'code' as const }], one.name ?? '', writtenCount(one.count)],
            })),
            empty: '',
          },
        ]),
  ];
}

function affected({ affected: parts, judged }: NonconformanceReport): Block[] {
  return [
    { kind: 'heading', level: 2, text: 'What is affected' },
    {
      kind: 'table',
      summary: 'Lots, pieces and quantities that are affected',
      columns: partColumns,
      rows: parts.map((one) => ({ kind: 'row', cells: partCells(one) })),
      empty: 'Nothing.',
    },
    { kind: 'heading', level: 3, text: 'What else was looked at, and judged' },
    {
      kind: 'table',
      summary: 'Parts judged in or out, with the reason',
      columns: [
        { head: 'Lot', share: 33 },
        { head: 'Why looked at', share: 20 },
        { head: 'Judged', share: 16 },
        { head: 'Reason', share: 44 },
      ],
      rows: judged.map((one) => ({
        kind: 'row',
        cells: [
          part(one.part),
          one.relation,
          one.affected ? [{ text: 'affected', look: 'accent' }] : 'not affected',
          [{ text: one.reason }, { text: `${personText(one.by)}, ${writtenInstant(one.at)}`, look: 'quiet' }],
        ],
      })),
      empty: 'Nothing else was judged in or out.',
    },
  ];
}
