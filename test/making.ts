import { receiveReleased, release } from './fernhollow.js';
import type { Answer, Plant } from './harness.js';

/** Making things in tests: runs through their routes, at the times a recipe wants. */

export interface Problem {
  readonly status: number;
  readonly reasons: readonly { readonly code: string; readonly detail: string; readonly pointer?: string }[];
}

export interface RunBody {
  readonly run: string;
  readonly state: string;
  readonly lot: string | null;
  readonly heel: readonly { readonly lot: string; readonly quantity: string; readonly unit: string }[];
  readonly residues: readonly { readonly lot: string; readonly vessel: string }[];
  readonly steps: readonly { readonly step: number; readonly charged: string; readonly left: string }[];
  readonly charges: readonly {
    readonly charge: number;
    readonly lot: string;
    readonly name: string;
    readonly quantity: string;
    readonly unit: string;
    readonly pieces: string | null;
    readonly mass: string;
    readonly heel: boolean;
    readonly deviations: readonly { readonly what: string }[];
    readonly deviationReason: string | null;
    readonly urgentReleases: readonly string[];
    readonly conversion: { readonly given: string; readonly givenUnit: string; readonly density: string } | null;
    readonly seq: number;
  }[];
  readonly changeovers: readonly { readonly item: string; readonly lot: string; readonly fromPiece: number }[];
  readonly replacements: readonly { readonly oldSerial: string | null; readonly newSerial: string | null }[];
  readonly yields: {
    readonly lot: string;
    readonly name: string;
    readonly quantity: string;
    readonly unit: string;
    readonly place: string;
    readonly finishedAt: string;
    readonly expiresOn: string | null;
    readonly serials: readonly string[];
    readonly released: string;
    readonly acceptance: readonly { readonly status: string; readonly by: string }[];
  } | null;
  readonly result: {
    readonly rejected: string | null;
    readonly yieldPercent: string | null;
    readonly mass: Readonly<Record<'charged' | 'filled' | 'rejected' | 'loss' | 'lossPercent' | 'basis', string>> | null;
    readonly components: readonly { readonly item: string; readonly charged: string; readonly needed: string; readonly over: string }[];
    readonly deviations: readonly { readonly what: string }[];
    readonly unsure: readonly string[];
  } | null;
  readonly investigations: readonly { readonly what: string; readonly detail: string; readonly explanation: string | null }[];
  readonly corrections: readonly { readonly corrects: number; readonly voided: number; readonly linked: number; readonly reason: string }[];
  readonly label: { readonly text: string } | null;
  readonly clearance: { readonly checkedBy: string } | null;
  readonly closedSeq: number | null;
  readonly startedSeq: number;
}

/** The body of an answer that must have gone well. */
export function done<Body>(answer: Answer<Body>): Body {
  if (answer.status >= 300) throw new Error(`refused: ${JSON.stringify(answer.body)}`);
  return answer.body;
}

/** The codes of a refusal, in order. */
export function refused(answer: Answer): string[] {
  if (answer.status < 400) throw new Error(`not refused: ${JSON.stringify(answer.body)}`);
  return (answer.body as Problem).reasons.map((reason) => reason.code);
}

export const operator = (plant: Plant) => plant.as('operator');

/** Posts to a run as an operator; the answer must be good. */
export const post = async (plant: Plant, path: string, body: object = {}): Promise<RunBody> =>
  done(await operator(plant).post<RunBody>(path, body));

/** Posts as an operator and answers the codes of the refusal. */
export const refuse = async (plant: Plant, path: string, body: object = {}): Promise<string[]> =>
  refused(await operator(plant).post(path, body));

/** Minutes later on the plant's clock. */
export function wait(plant: Plant, minutes: number): string {
  plant.clock.set(new Date(Date.parse(plant.clock.now()) + minutes * 60_000).toISOString());
  return plant.clock.now();
}

/** One released lot of each raw material, enough for several batches. */
export async function rawMaterials(plant: Plant): Promise<Record<'wax' | 'oil' | 'solvent' | 'dye' | 'inhibitor', string>> {
  const [wax, oil, solvent, dye, inhibitor] = await receiveReleased(plant, [
    { item: 'WAX-BASE', quantity: '1000', supplierLot: 'LW-77' },
    { item: 'OIL-40', quantity: '400' },
    { item: 'SOLV', quantity: '400' },
    { item: 'DYE-BLU', quantity: '20' },
    { item: 'RUST-INH', quantity: '50' },
  ]);
  return { wax: wax!, oil: oil!, solvent: solvent!, dye: dye!, inhibitor: inhibitor! };
}

export type Raw = Awaited<ReturnType<typeof rawMaterials>>;

/** Charges the five steps of the recipe for 100 kg, each at its time; the last has mixed when this returns. */
export async function chargeRecipe(plant: Plant, run: string, raw: Raw): Promise<void> {
  const steps = [
    [raw.wax, '60', 30],
    [raw.oil, '20', 10],
    [raw.solvent, '20', 10],
    [raw.dye, '0.5', 0],
    [raw.inhibitor, '2.5', 15],
  ] as const;
  for (const [lot, quantity, minutes] of steps) {
    await post(plant, `/api/runs/${run}/charges`, { charges: [{ lot, quantity }] });
    wait(plant, minutes);
  }
}

/** Mixes a batch of the recipe in a vessel, heel and all, and answers the closed run. */
export async function mixBatch(plant: Plant, raw: Raw, vessel = 'V-1', quantity?: string): Promise<RunBody> {
  const started = await post(plant, '/api/runs', { kind: 'mixing', item: 'MIX-WAX', recipe: 'RCP-WAX', vessel, takeHeel: true });
  await chargeRecipe(plant, started.run, raw);
  const heel =
    started.heel.length === 0
      ? started.charges.filter((charge) => charge.heel).reduce((sum, charge) => sum + Number(charge.quantity), 0)
      : 0;
  return post(plant, `/api/runs/${started.run}/close`, { quantity: quantity ?? String(98 + heel) });
}

/** A released batch in a vessel. */
export async function releasedBatch(plant: Plant, raw: Raw, vessel = 'V-1'): Promise<string> {
  const closed = await mixBatch(plant, raw, vessel);
  await release(plant, [closed.lot!]);
  return closed.lot!;
}

export interface TracedBody {
  readonly lots: readonly {
    readonly lot: string;
    readonly spans: readonly (readonly [number, number])[] | null;
    readonly share: number | null;
  }[];
}

/** A trace as lot to spans. */
export async function traced(plant: Plant, query: string): Promise<Record<string, string>> {
  const body = done(await plant.as('auditor').get<TracedBody>(`/api/trace?${query}`));
  return Object.fromEntries(
    body.lots.map(({ lot, spans }) => [lot, spans === null ? 'all' : spans.map(([a, b]) => (a === b ? `${a}` : `${a}-${b}`)).join(',')]),
  );
}
