import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Locator, Page } from 'playwright-core';
import { plain, readPdf } from '../read-pdf.js';
import { type BrowserPlant, DEMO_PASSWORD, type Desk, expectSound, startBrowserPlant } from './browser.js';

/** Lids that arrived this morning and wait to be inspected. */
const INSPECTION = 'IN-0066';
const LOT = 'P26-00102';
/** Presses nearer together than this are taken for a scanner's. */
const BETWEEN_PRESSES_MS = 200;

interface Report {
  readonly report: string;
  readonly state: string;
}
interface Dispositions {
  readonly dispositions: readonly {
    readonly disposition: number;
    readonly kind: string;
    readonly quantity: string;
    readonly signatures: readonly { readonly by: string }[];
  }[];
}

const sign = async (within: Page | Locator, reason: string): Promise<void> => {
  await within.getByRole('textbox', { name: 'Reason', exact: true }).fill(reason);
  await within.getByLabel('Your password').fill(DEMO_PASSWORD);
};

describe('quality inspects, holds, reports, disposes, signs by two, and closes', () => {
  let plant: BrowserPlant;
  let lab: Desk;
  let gwen: Desk;
  let report = '';
  beforeAll(async () => {
    plant = await startBrowserPlant();
    [lab, gwen] = [await plant.desk('esme.lab'), await plant.desk('gwen.quality')];
  });
  afterAll(() => plant.stop());

  it('inspects: numbers always in sight, a tally by buttons and keys, and the verdict is the plan’s', async () => {
    const { page } = lab;
    await lab.go('/');
    const line = page.getByRole('listitem').filter({ hasText: 'Lid for can 250 g' });
    await line.getByRole('link', { name: 'Begin the inspection' }).click();
    const numbers = page.getByLabel('Sample size, acceptance and rejection numbers');
    await numbers.getByText('Take 50').waitFor();
    expect(await numbers.getByRole('row', { name: /^major/u }).textContent()).toMatch(/Ac\s*1.*Re\s*2/u);
    await page.getByRole('button', { name: `Begin ${INSPECTION}: take 50 items` }).click();
    await page.getByRole('button', { name: /^Leaks/u }).click();
    await page.waitForTimeout(BETWEEN_PRESSES_MS);
    await page.keyboard.press('5'); // a seam that is not closed
    await page.waitForTimeout(BETWEEN_PRESSES_MS);
    await page.getByRole('textbox', { name: 'Several conforming at once' }).fill('48');
    await page.keyboard.press('Enter');
    expect(await numbers.isVisible()).toBe(true);
    await page.getByRole('button', { name: /^Write down 50 items/u }).click();
    await page.getByText('2 major in 50, not accepted at 2').first().waitFor();
    await expectSound(lab);
    await page.getByRole('button', { name: `Close ${INSPECTION}: ${LOT} is not accepted` }).click();
    await page.getByRole('heading', { level: 1, name: /not accepted/u }).waitFor();
    const inspection = await plant.ask<{ verdict: string; holds: string[] }>('esme.lab', `/api/inspections/${INSPECTION}`);
    expect(inspection.verdict).toBe('not-accepted');
  });

  it('holds: the lot is stopped at once, and says so', async () => {
    const { page } = gwen;
    await gwen.go(`/lots/${LOT}`);
    await page.getByText('HELD', { exact: true }).first().waitFor();
    await expectSound(gwen);
  });

  it('raises a report from the inspection, which brings its findings along', async () => {
    const { page } = gwen;
    await gwen.go(`/inspection/${INSPECTION}`);
    await page.getByRole('link', { name: 'Raise a nonconformance report' }).click();
    await page.getByRole('button', { name: 'Raise the report' }).click();
    await page.waitForURL(/\/nonconformance\/NC-/u);
    report = new URL(page.url()).pathname.split('/').at(-1) ?? '';
    await page.getByText('2 major in 50, not accepted at 2').first().waitFor();
    await expectSound(gwen);
  });

  it('contains and reviews it, each with a signature', async () => {
    const { page } = gwen;
    await sign(page, 'Leaking lids must not reach the line.');
    await page.getByRole('button', { name: 'Contain it' }).click();
    const review = page.getByRole('button', { name: 'Sign the review' });
    await review.waitFor();
    await page.getByLabel('Severity', { exact: true }).selectOption('Major');
    await page.getByLabel('Is the cause investigated?').selectOption('No');
    await page.getByLabel('Why, or why not').fill('The supplier knows the press.');
    await page.getByLabel('Is the party responsible told?').selectOption('Yes');
    await page.getByLabel('Why they are told, or not').fill('They take the lids back.');
    await sign(page, 'Reviewed with the laboratory.');
    await review.click();
    await page.getByLabel('Becomes').waitFor();
    expect((await plant.ask<Report>('gwen.quality', `/api/reports/${report}`)).state).toBe('reviewed');
  });

  it('disposes of it until it adds up; more than there is cannot be disposed of', async () => {
    const { page } = gwen;
    const propose = async (becomes: string, quantity: string, why: string): Promise<void> => {
      await page.getByLabel('Becomes').selectOption(becomes);
      await page.getByLabel('How much (each)').fill(quantity);
      await page.getByLabel('Why', { exact: true }).last().fill(why);
      await page.getByRole('button', { name: 'Propose it' }).click();
    };
    await page.getByLabel('Becomes').selectOption('Use as is, under a concession');
    await page.getByText('Used as is, it stays nonconforming.').waitFor(); // the caution stands where the risk is
    await page.getByLabel('By authority of').selectOption('Quality');
    await page.getByLabel('Authorised by').fill('Head of quality');
    await page.getByLabel('Reference').fill('CO-77');
    await page.getByLabel('Last day').fill('2027-12-31');
    await propose('Use as is, under a concession', '1000', 'For empty display cans only.');
    await page.getByRole('img', { name: /1.000 pieces disposed of, 2.000 pieces undecided/u }).waitFor();
    await page.getByRole('button', { name: 'Propose another disposition' }).click();
    await propose('Return to the supplier', '2001', 'Two of fifty leak.');
    await page.getByRole('alert').first().waitFor();
    await page.getByLabel('How much (each)').fill('2000');
    await page.getByRole('button', { name: 'Propose it' }).click();
    await page.getByRole('img', { name: /3.000 pieces disposed of, 0 pieces undecided/u }).waitFor();
    await expectSound(gwen);
  });

  it('takes two people to sign, and says each time what exactly is signed', async () => {
    const signDisposition = async ({ page }: Desk, disposition: number, who: string): Promise<void> => {
      const article = page.getByRole('article', { name: `Disposition ${disposition}`, exact: true });
      const unfold = article.getByRole('button', { name: `Sign disposition ${disposition} …` });
      const signs = article.getByRole('button', { name: new RegExp(`^Sign disposition ${disposition} as`, 'u') });
      await unfold.or(signs).waitFor();
      if (await unfold.isVisible()) await unfold.click();
      expect(await article.textContent()).toContain('Digest of what you sign');
      await article.getByLabel('Your password').fill(DEMO_PASSWORD);
      await signs.click();
      await article.getByRole('listitem').filter({ hasText: who }).waitFor();
    };
    await signDisposition(gwen, 1, 'gwen.quality');
    await signDisposition(gwen, 2, 'gwen.quality');
    await lab.go(`/nonconformance/${report}`);
    await signDisposition(lab, 1, 'esme.lab');
    await signDisposition(lab, 2, 'esme.lab'); // whoever raised the report cannot be the only one
    const { dispositions } = await plant.ask<Dispositions>('gwen.quality', `/api/reports/${report}/dispositions`);
    expect(dispositions.map(({ kind, quantity }) => [kind, quantity])).toEqual([
      ['concession', '1000'],
      ['return-to-supplier', '2000'],
    ]);
    expect(dispositions.map(({ signatures }) => signatures.map(({ by }) => by))).toEqual([
      ['gwen.quality', 'esme.lab'],
      ['gwen.quality', 'esme.lab'],
    ]);
  });

  it('carries both out, closes the report, and the PDF tells the same', async () => {
    const { page } = gwen;
    await gwen.go(`/nonconformance/${report}`);
    const carryOut = async (disposition: string, submit: string, paper?: string): Promise<void> => {
      const article = page.getByRole('article', { name: disposition, exact: true });
      const unfold = article.getByRole('button', { name: /…$/u }).first();
      const done = article.getByLabel('What was done');
      await unfold.or(done).first().waitFor();
      if (!(await done.isVisible())) await unfold.click();
      if (paper !== undefined) await article.getByLabel('Return note').fill(paper);
      await article.getByLabel('What was done').fill('Counted, marked and signed for.');
      await article.getByRole('button', { name: submit }).click();
      await done.waitFor({ state: 'detached' });
    };
    await carryOut('Disposition 1', 'Put the concession into force');
    await carryOut('Disposition 2', 'Record the return to the supplier', 'RN-31');
    await sign(page, 'Everything is dealt with.');
    await page.getByRole('button', { name: 'Close the report' }).click();
    const state = async (): Promise<string> => (await plant.ask<Report>('gwen.quality', `/api/reports/${report}`)).state;
    await expect.poll(state, { timeout: 20_000 }).toBe('closed');
    await page.getByText('Closed: nothing is left to do').first().waitFor();
    const { pages } = await readPdf(await plant.bytes('gwen.quality', `/api/reports/${report}/report.pdf`));
    const text = plain(pages.map((one) => one.text).join(' '));
    for (const said of [report, LOT, INSPECTION, '1 000', '2 000', 'CO-77', 'RN-31', 'gwen.quality', 'esme.lab'])
      expect(text).toContain(said);
    await expectSound(gwen);
    expect(lab.faults).toEqual([]);
  });
});
