import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserPlant, DEMO_PASSWORD, expectSound, startBrowserPlant } from './browser.js';

describe('a session that ends in the middle of a page', () => {
  let plant: BrowserPlant;
  beforeAll(async () => {
    plant = await startBrowserPlant();
  });
  afterAll(() => plant.stop());

  it('loses nothing that was typed: the same person signs in over the page and goes on', async () => {
    const desk = await plant.desk('gwen.quality');
    const { page, go } = desk;
    await go('/ledger/proof');
    const field = page.getByLabel('Checkpoint', { exact: true });
    await field.fill('typed before it ended');
    await page.context().clearCookies();
    await page.getByRole('button', { name: 'Check it', exact: true }).click();
    const again = page.getByRole('dialog', { name: 'Your session has ended' });
    await again.waitFor();
    for (let i = 0; i < 3; i += 1) await page.keyboard.press('Escape'); // the second one closes a dialog in Chromium
    await expect.poll(() => again.isVisible()).toBe(true);
    await page.getByLabel('Password of gwen.quality').fill('not hers');
    await page.keyboard.press('Enter');
    await again.getByText('the code or the password is wrong').waitFor();
    await page.getByLabel('Password of gwen.quality').fill(DEMO_PASSWORD);
    await page.keyboard.press('Enter');
    await again.waitFor({ state: 'detached' });
    expect(await field.inputValue()).toBe('typed before it ended');
    await page.getByRole('button', { name: 'Check it', exact: true }).click();
    await page.getByText('this is not a checkpoint').first().waitFor();
    await expectSound(desk);
    await desk.close();
  });

  it('gives somebody else a page of their own', async () => {
    const desk = await plant.desk('gwen.quality');
    const { page, go } = desk;
    await go('/ledger/proof');
    await page.getByLabel('Checkpoint', { exact: true }).fill('not for others');
    await page.context().clearCookies();
    await page.getByRole('button', { name: 'Check it', exact: true }).click();
    await page.getByRole('button', { name: 'Leave the page and sign in as someone else' }).click();
    await page.getByRole('button', { name: 'Hugo' }).click();
    await page.getByText('dispatcher').first().waitFor();
    expect(await page.getByLabel('Checkpoint', { exact: true }).inputValue()).toBe('');
    await desk.close();
  });
});
