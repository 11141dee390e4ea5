import { inWords } from '../../../../shared/written.js';
import { queryRows, selectIn } from '../../platform/database/rows.js';
import { overdueFigures } from '../figures/nonconformance.query.js';
import type { DispositionSigned } from '../nonconformance/disposition.facts.js';
import { decisionState } from '../nonconformance/disposition.query.js';
import type { Disposition, Report, ReportEntry } from '../nonconformance/report-state.facts.js';
import { SIGNING_FUNCTIONS, signatureStanding } from '../nonconformance/review-rule.decide.js';
import type { Signing } from '../nonconformance/settle.decide.js';
import type { ReportState } from '../nonconformance/states.facts.js';
import type { Role } from '../people/people.facts.js';
import { progressOf } from '../recall/progress.query.js';
import type { Ground } from './ground.js';
import { dayWords, seesAll, waited, type Waiting } from './waiting.js';

/** What an open report waits for, by its state, and what the next step is called. */
const WAITS_FOR: Readonly<Record<ReportState, readonly [says: string, label: string, by: readonly Role[]]>> = {
  raised: ['to be contained', 'Contain what it affects', ['quality']],
  contained: ['to be reviewed', 'Review it', ['quality']],
  reviewed: ['for dispositions that are signed', 'Dispose of what it affects', ['quality']],
  dispositioned: [
    'for its dispositions to be carried out',
    'Carry out the dispositions',
    ['operator', 'inspector', 'quality', 'dispatcher'],
  ],
  'carried-out': ['for what was done to be verified', 'Verify what was done', ['inspector', 'quality']],
  verified: ['to be closed', 'Close it', ['quality']],
  closed: ['for nothing', 'Look at it', []],
  withdrawn: ['for nothing', 'Look at it', []],
};

/** Reports that are not closed: all for whoever investigates, and for others those in which they have something to carry out. */
export async function reportsWaiting({ from, actor, now }: Ground): Promise<Waiting[]> {
  const open = await queryRows<{
    code: string;
    state: ReportState;
    severity: string;
    requirement: string;
    raised_at: string;
    state_at: string;
  }>(
    from,
    `SELECT "code", "state", "severity", "requirement", "raised_at", "state_at" FROM "report" WHERE "state" NOT IN ('closed', 'withdrawn')`,
  );
  const investigates = seesAll(actor.roles) || actor.roles.includes('inspector');
  const rows = open.filter((row) => investigates || row.state === 'dispositioned');
  const parts = await selectIn<{ report: string; lot: string; item: string }>(
    from,
    `SELECT p."report", p."lot", l."item" FROM "report_part" p JOIN "lot" l ON l."code" = p."lot" WHERE p."part" = 1 AND p."report" IN (:list)`,
    rows.map((row) => row.code),
  );
  const firstOf = new Map(parts.map((part) => [part.report, part]));
  return rows.map((row): Waiting => {
    const [says, label, by] = WAITS_FOR[row.state];
    const first = firstOf.get(row.code);
    return {
      kind: 'report',
      code: row.code,
      lot: first?.lot ?? null,
      item: first?.item ?? null,
      since: row.raised_at,
      by,
      says: `${row.severity}: ${row.requirement}; ${row.state}, waits ${waited(row.state_at, now)} ${says}`,
      step: { label, place: 'report', code: row.code },
    };
  });
}

/** Dispositions on which a signature of the person would count. */
export async function signaturesWaiting({ from, actor, now }: Ground): Promise<Waiting[]> {
  const rows = await queryRows<{ report: string; disposition: number; item: string }>(
    from,
    `SELECT d."report", d."disposition", l."item" FROM "disposition" d JOIN "report" r ON r."code" = d."report" JOIN "lot" l ON l."code" = d."lot"
     WHERE d."state" = 'proposed' AND r."state" NOT IN ('closed', 'withdrawn')`,
  );
  const found: Waiting[] = [];
  for (const report of new Set(rows.map((row) => row.report))) {
    const state = await decisionState(from, report, actor.person);
    if (!state) continue;
    for (const row of rows.filter((one) => one.report === report)) {
      const one = state.report.dispositions.find(({ disposition }) => disposition === row.disposition);
      const signing = state.signing.get(row.disposition);
      if (one && signing && wouldCount(one, state.report, signing, actor)) found.push(signatureLine(one, state.report, row.item, now));
    }
  }
  return found;
}

/** Whether a signature of this person, for one of their functions, would leave less lacking. */
function wouldCount(one: Disposition, report: Report, signing: Signing, { person, roles }: Ground['actor']): boolean {
  const { lacks, valid } = signatureStanding(one, report, signing);
  if (valid.some(({ fact }) => fact.signature.by === person)) return false;
  return roles
    .filter((role) => SIGNING_FUNCTIONS.includes(role))
    .some((as) => {
      const fact = { digest: signing.digest, as, signature: { by: person } } as DispositionSigned;
      const signed = { ...one, signatures: [...one.signatures, { fact } as ReportEntry<DispositionSigned>] };
      return signatureStanding(signed, report, signing).lacks.length < lacks.length;
    });
}

function signatureLine({ disposition, terms, proposedBy, proposedSeq }: Disposition, report: Report, item: string, now: string): Waiting {
  const since = report.entries.find((entry) => entry.seq === proposedSeq)?.at ?? report.raised.at;
  return {
    kind: 'disposition',
    code: `${report.report}/${disposition}`,
    lot: terms.part.lot,
    item,
    since,
    mine: true,
    says: `${inWords(terms.kind)} of ${terms.part.lot}, proposed by ${proposedBy}, waits ${waited(since, now)}: ${terms.reason}`,
    step: { label: 'Read and sign', place: 'report', code: report.report },
  };
}

/** Actions not done and checks not made though their day is past: the person's own first, and alone where others' are not theirs to see to. */
export async function overdueWaiting({ from, actor, today }: Ground): Promise<Waiting[]> {
  const overdue = (await overdueFigures(from, today)).filter((one) => seesAll(actor.roles) || one.owner === actor.person);
  return overdue.map((one): Waiting => ({
    kind: 'action',
    code: one.action === null ? one.report : `${one.report}/${one.action}`,
    lot: null,
    item: null,
    since: `${one.dueOn}T00:00:00.000Z`,
    due: one.dueOn,
    overdue: true,
    mine: one.owner === actor.person,
    ...(one.owner === actor.person ? {} : { by: ['quality'] }),
    says: `${one.kind ?? 'check of effectiveness'}${one.owner === null ? '' : ` of ${one.owner}`}, due ${dayWords(one.dueOn, today)}: ${one.subject}`,
    step: { label: one.action === null ? 'Check whether it worked' : 'Say that it is done', place: 'report', code: one.report },
  }));
}

/** Recalls and drills that are not closed. */
export async function recallsWaiting({ from, now, today }: Ground): Promise<Waiting[]> {
  const rows = await queryRows<{ code: string }>(from, 'SELECT "code" FROM "recall" ORDER BY "opened_seq"');
  const progress = await progressOf(
    from,
    rows.map((row) => row.code),
  );
  return [...progress.values()]
    .filter((one) => one.closed === null)
    .map((one): Waiting => {
      const { fact, at } = one.opened;
      const due = one.strategies.at(-1)?.fact.terms.completionOn ?? null;
      const told = new Set(one.notices.flatMap((notice) => notice.fact.customer ?? [])).size;
      const answered = new Set(one.answers.map((answer) => answer.fact.customer)).size;
      return {
        kind: 'recall',
        code: one.recall,
        lot: null,
        item: null,
        since: at,
        due,
        by: ['quality', 'recall-lead'],
        overdue: due !== null && due < today,
        says: `${fact.drill ? 'DRILL: ' : ''}${fact.title}, open ${waited(at, now)}, ${told} told, ${answered} answered`,
        step: { label: fact.drill ? 'Go on with the drill' : 'Go on with the recall', place: 'recall', code: one.recall },
      };
    });
}
