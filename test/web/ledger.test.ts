import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserPlant, expectSound, startBrowserPlant } from './browser.js';

describe('the ledger, for an auditor', () => {
  let plant: BrowserPlant;
  beforeAll(async () => {
    plant = await startBrowserPlant();
  });
  afterAll(() => plant.stop());

  it('checks the whole record, also when one goes away meanwhile', async () => {
    const desk = await plant.desk('jude.audit');
    const { page, go } = desk;
    await go('/ledger/proof');
    await page.getByRole('button', { name: 'Check it now' }).click();
    await page.locator('#checks progress').waitFor();
    await go('/lots');
    await go('/ledger/proof');
    await page.locator('#checks').getByRole('cell', { name: 'whole', exact: true }).waitFor({ timeout: 30_000 });
    await expectSound(desk);
    await desk.close();
  });

  it('takes a checkpoint along, and tells it later from one that was changed and from one of another history', async () => {
    const desk = await plant.desk('jude.audit');
    const { page, go } = desk;
    await go('/ledger/proof');
    const [kept] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'Download the checkpoint' }).click()]);
    const note = readFileSync(await kept.path(), 'utf8');
    expect(await page.getByLabel('Checkpoint, as signed').textContent()).toBe(note);

    const answer = page.getByRole('status').filter({ has: page.getByRole('heading') });
    const check = async (): Promise<string> => {
      await page.getByRole('button', { name: 'Check it', exact: true }).click();
      return answer.innerText();
    };
    await page.getByLabel('Take it from a file').setInputFiles({ name: 'kept.txt', mimeType: 'text/plain', buffer: Buffer.from(note) });
    await expect.poll(() => page.getByLabel('Checkpoint', { exact: true }).inputValue()).toBe(note);
    expect(await check()).toContain('The record continues it');
    await page.getByLabel('Checkpoint', { exact: true }).fill(note.replace(/\nat \d{4}/, '\nat 1999'));
    expect(await check()).toContain('not proved to be the plant’s');
    await page.getByLabel('Checkpoint', { exact: true }).fill(note.replace(/\n\d+\n/, '\n9999999\n'));
    expect(await check()).toContain('This checkpoint proves nothing');
    await page.getByLabel('Checkpoint', { exact: true }).fill('words');
    await page.getByRole('button', { name: 'Check it', exact: true }).click();
    expect(await page.getByRole('alert').innerText()).toContain('this is not a checkpoint');
    await expectSound(desk);
    await desk.close();
  });

  it('exports what a search found, and says when it found nothing', async () => {
    const desk = await plant.desk('jude.audit');
    const { page, go } = desk;
    await go('/ledger?lot=R26-00032');
    const [found] = await Promise.all([page.waitForEvent('download'), page.getByRole('link', { name: 'Export these entries' }).click()]);
    const lines = readFileSync(await found.path(), 'utf8')
      .trimEnd()
      .split('\n');
    expect(JSON.parse(lines[0]!)).toMatchObject({ selected: { lot: 'R26-00032' } });
    expect(JSON.parse(lines.at(-1)!)).toEqual({ end: { entries: lines.length - 2 } });
    await page.getByLabel('with the code').fill('R26-0003');
    await page.getByRole('button', { name: 'Find its entries' }).click();
    await page.getByText('No entry names a lot with the code').waitFor();
    expect(await page.getByRole('link', { name: 'Export these entries' }).count()).toBe(0);
    await expectSound(desk);
    await desk.close();
  });
});
