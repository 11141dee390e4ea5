import { MICRO } from '../shared/quantity.js';
import { catalogueFernhollow } from './fernhollow.js';
import { type Answer, type Database, PASSWORD, type Plant, startPlant } from './harness.js';
import { listDefects, planInspection } from './inspecting.js';
import { makeLots } from './made-lots.js';
import type { Role } from '../src/server/plant/people/access.js';

/** Reports and their dispositions in tests, through the routes. */

export interface Refused {
  readonly reasons: readonly { readonly code: string; readonly detail: string; readonly pointer?: string }[];
}

export interface Disposed {
  readonly report: string;
  readonly state: string;
  readonly addsUp: boolean;
  readonly accounts: readonly {
    readonly lot: string;
    readonly affected: string;
    readonly disposed: string;
    readonly carriedOut: string;
    readonly open: string;
    readonly openPieces: string | null;
  }[];
  readonly dispositions: readonly {
    readonly disposition: number;
    readonly kind: string;
    readonly state: string;
    readonly lot: string;
    readonly pieces: string | null;
    readonly quantity: string;
    readonly lacks: readonly string[];
    readonly signatures: readonly { readonly by: string; readonly as: string; readonly broken: boolean; readonly digest: string }[];
    readonly digest: string | null;
    readonly concession: { readonly left: string | null } | null;
    readonly carriedOut: {
      readonly opens: string | null;
      readonly becomes: string | null;
      readonly hold: string | null;
      readonly sorted: { readonly conforming: string | null; readonly nonconforming: string | null } | null;
    } | null;
    readonly verifiedBy: string | null;
  }[];
}

export const codesOf = (answer: Answer): string[] => {
  if (answer.status < 400) throw new Error(`not refused: ${JSON.stringify(answer.body)}`);
  return (answer.body as Refused).reasons.map((reason) => reason.code);
};

export const signed = (more: object = {}): object => ({ password: PASSWORD, reason: 'looked into', ...more });

export async function good<Body>(answer: Promise<Answer<Body>>): Promise<Body> {
  const { status, body } = await answer;
  if (status >= 400) throw new Error(`refused: ${JSON.stringify(body)}`);
  return body;
}

export interface Part {
  readonly lot: string;
  readonly pieces?: string;
  readonly quantity?: string;
}

/** Speaks to the reports of a plant. */
export class Desk {
  #lots = 0;
  #papers = 0;

  constructor(private readonly plant: Plant) {}

  post<Body = Disposed>(path: string, body: object, role: Role = 'quality', which: 1 | 2 = 1): Promise<Answer<Body>> {
    return this.plant.as(role, which).post<Body>(`/api/reports${path}`, body);
  }

  /** A report raised by the inspector, contained and reviewed by quality. */
  async reviewed(parts: readonly Part[], more: object = {}, investigate = false): Promise<string> {
    const { report } = await good(
      this.post<{ report: string }>(
        '',
        { source: { kind: 'audit' }, requirement: 'DS-4: can closes', found: 'lids fall off', severity: 'major', parts, ...more },
        'inspector',
      ),
    );
    await good(this.post(`/${report}/containment`, signed()));
    const asked = { investigate: { needed: investigate, reason: 'seen before' }, inform: { needed: false, reason: 'made here' } };
    await good(this.post(`/${report}/review`, signed(asked)));
    return report;
  }

  tryPropose(report: string, body: object): Promise<Answer<Disposed>> {
    return this.post(`/${report}/dispositions`, { reason: 'the only sound way', ...body });
  }

  /** Proposes and answers the number of the disposition. */
  async propose(report: string, body: object): Promise<number> {
    return (await good(this.tryPropose(report, body))).dispositions.at(-1)!.disposition;
  }

  trySign(report: string, n: number, role: Role = 'quality', which: 1 | 2 = 1, as: Role = role): Promise<Answer<Disposed>> {
    return this.post(`/${report}/dispositions/${n}/signature`, { password: PASSWORD, as }, role, which);
  }

  sign(report: string, n: number, role: Role = 'quality', which: 1 | 2 = 1): Promise<Disposed> {
    return good(this.trySign(report, n, role, which));
  }

  /** Proposed and signed by as many as are waited for. */
  async decided(report: string, body: object): Promise<number> {
    const n = await this.propose(report, body);
    const { dispositions } = await this.sign(report, n);
    if (dispositions.find((one) => one.disposition === n)!.lacks.length > 0) await this.sign(report, n, 'operator');
    return n;
  }

  tryCarryOut(report: string, n: number, body: object = {}, role: Role = 'operator'): Promise<Answer<Disposed>> {
    return this.post(`/${report}/dispositions/${n}/carried-out`, { note: 'done as decided', ...body }, role);
  }

  carryOut(report: string, n: number, body: object = {}): Promise<Disposed> {
    return good(this.tryCarryOut(report, n, body));
  }

  verify(report: string, n: number, inspection: string): Promise<Answer<Disposed>> {
    return this.post(`/${report}/dispositions/${n}/verification`, { inspection });
  }

  close(report: string): Promise<Answer<Disposed>> {
    return this.post(`/${report}/closing`, signed());
  }

  async view(report: string): Promise<Disposed> {
    return good(this.plant.as('auditor').get<Disposed>(`/api/reports/${report}/dispositions`));
  }

  // The stock the reports are about.

  /** Cans of a lot of their own. */
  async cans(pieces: number, status: 'released' | 'quarantine' = 'released'): Promise<string> {
    const lot = `F-${++this.#lots}`;
    await makeLots(this.plant, [{ lot, item: 'WAX-250', pieces, status }]);
    return lot;
  }

  /** Kilograms of wax in bulk. */
  async wax(kilograms: number, status: 'released' | 'quarantine' = 'released'): Promise<string> {
    const lot = `B-${++this.#lots}`;
    await makeLots(this.plant, [{ lot, item: 'MIX-WAX', quantityMicro: kilograms * MICRO, unit: 'kg', status }]);
    return lot;
  }

  ship(lot: string, part: object, location = 'FG-1'): Promise<Answer<Refused & { shipment: string }>> {
    return this.plant.as('dispatcher').post('/api/shipments', {
      customer: 'C-001',
      documentType: 'dispatch note',
      document: `N-${++this.#papers}`,
      location,
      lines: [{ lot, ...part }],
    });
  }

  async startRework(item = 'WAX-250'): Promise<string> {
    return (await good(this.plant.as('operator').post<{ run: string }>('/api/runs', { kind: 'rework', item }))).run;
  }

  charge(run: string, lot: string, part: object): Promise<Answer<Refused>> {
    return this.plant.as('operator').post<Refused>(`/api/runs/${run}/charges`, { charges: [{ lot, ...part }] });
  }

  /** Closes a run and answers the lot it yielded. */
  async closeRun(run: string, body: object): Promise<string> {
    return (await good(this.plant.as('operator').post<{ lot: string }>(`/api/runs/${run}/close`, { location: 'FG-1', ...body }))).lot;
  }

  release(lot: string, more: object = {}): Promise<Answer<Refused>> {
    return this.plant.as('quality', 2).post<Refused>(`/api/lots/${lot}/release`, signed(more));
  }

  /** What open holds stop of a lot. */
  async holdsOn(lot: string): Promise<string[]> {
    const holds = await good(this.plant.as('auditor').get<readonly HoldOn[]>('/api/holds'));
    return holds
      .filter((hold) => hold.liftedSeq === null)
      .flatMap((hold) => hold.parts.filter((part) => part.lot === lot).map((part) => part.pieces ?? part.quantity ?? 'all'))
      .toSorted();
  }
}

interface HoldOn {
  readonly liftedSeq: number | null;
  readonly parts: readonly { readonly lot: string; readonly pieces: string | null; readonly quantity: string | null }[];
}

/** A plant with defects, plans, a second-choice item, and a desk to decide at. */
export async function startDesk(database: Database): Promise<{ readonly plant: Plant; readonly desk: Desk }> {
  const plant = await startPlant(database);
  await catalogueFernhollow(plant);
  await listDefects(plant);
  for (const item of ['WAX-250', 'MIX-WAX', 'SEAL']) await planInspection(plant, item);
  const seconds = {
    code: 'WAX-2ND',
    name: 'Chain wax, can 250 g, dented',
    class: 'filled',
    unit: 'each',
    tracking: 'pieces',
    content: '0.25',
  };
  await good(plant.as('quality').post('/api/items', seconds));
  return { plant, desk: new Desk(plant) };
}

/** Last day of the concessions in these tests, and what they name. */
export const LETTER = {
  authority: 'customer',
  authorisedBy: 'A. Quist, Tumbledown Cycles',
  reference: 'letter of 2 March',
  until: '2026-12-31',
};
