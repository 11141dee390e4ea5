import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readFernhollow } from '../../src/server/demo/fernhollow.js';
import { type BrowserPlant, startBrowserPlant } from './browser.js';

/** How the demonstration's ledger ends, on every machine; a change of its story or of a fact changes it, and the tour in the README. */
const END = { seq: 1166, hash: '3bfd08f9d7b9a33871bfe27262423651a696ebee3f462294ea6db623e40e2164' };

interface Today {
  readonly groups: readonly {
    readonly kind: string;
    readonly lines: readonly { readonly code: string; readonly step: { readonly label: string } }[];
  }[];
}
interface Status {
  readonly consignees: readonly { readonly answer: object | null }[];
  readonly notified: { readonly notified: number };
  readonly silent: readonly object[];
  readonly gaps: readonly object[];
  readonly status: string;
}

describe('the demonstration', () => {
  let plant: BrowserPlant;
  beforeAll(async () => {
    plant = await startBrowserPlant();
  });
  afterAll(() => plant.stop());

  it('is the same to the last entry, wherever and whenever it is built', async () => {
    expect(await plant.ask('jude.audit', `/api/ledger/entries/${END.seq}`)).toMatchObject(END);
    expect((await plant.ask<{ entries: number }>('jude.audit', '/api/today')).entries).toBe(END.seq);
  });

  it.each(readFernhollow().people.map(({ person }) => person))('has something that waits for %s', async (person) => {
    const { groups } = await plant.ask<Today>(person, '/api/today');
    expect(groups.filter(({ kind }) => kind !== 'expiring').length).toBeGreaterThan(0);
  });

  it('breaks off in the middle of a morning: every step that quality may look into has something in it', async () => {
    const { groups } = await plant.ask<Today>('finn.quality', '/api/today');
    const steps = new Map(groups.map(({ kind, lines }) => [kind, lines.map(({ code, step }) => `${code}: ${step.label}`).toSorted()]));
    expect(Object.fromEntries(steps)).toMatchObject({
      recalls: ['RC-0002: Go on with the recall'],
      signatures: ['NC-0003/1: Read and sign'],
      reports: ['NC-0003: Dispose of what it affects', 'NC-0004: Review it'],
      inspections: ['IN-0064: Go on with the inspection', 'IN-0065: Begin the inspection', 'IN-0066: Begin the inspection'],
      releases: ['C26-00099: Decide on the release'],
      returns: ['RT-0003: Judge what came back'],
      runs: ['RUN-0057: Look at it', 'RUN-0058: Look at it', 'RUN-0059: Look at it'],
    });
    expect(steps.get('overdue')).toContain('NC-0003/2: Say that it is done');
    expect(steps.get('holds')).toContain('H-0004: Look into the hold');
  });

  it('has a recall whose answers have begun to come in, and a drill that is closed with what it found wanting', async () => {
    const recall = await plant.ask<Status>('iris.recall', '/api/recalls/RC-0002/status');
    expect(recall.notified.notified).toBe(9);
    expect(recall.consignees.filter(({ answer }) => answer !== null).length).toBe(2);
    expect(recall.silent.length).toBe(7);
    const drill = await plant.ask<Status>('iris.recall', '/api/recalls/RC-0001/status');
    expect([drill.status, drill.gaps.length]).toEqual(['closed', 1]);
  });
});
