import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserPlant, type Desk, expectSound, startBrowserPlant } from './browser.js';

const FILES = ['parties', 'items', 'lots', 'links', 'shipments'].map((name) =>
  join('fixtures/imports/bad/check-digits-wrong', `${name}.csv`),
);

describe('the set-up', () => {
  let plant: BrowserPlant;
  let desk: Desk;
  beforeAll(async () => {
    plant = await startBrowserPlant();
    desk = await plant.desk('kit.admin');
  });
  afterAll(() => plant.stop());

  it('refuses a new item with a wrong GTIN beside its field while it is typed, and takes it with the right one', async () => {
    const { page, go } = desk;
    await go('/set-up/new/items');
    await page.getByLabel('Code', { exact: true }).fill('WAX-500');
    await page.getByLabel('Name').fill('Chain wax, can 500 g');
    await page.getByLabel('What it is').selectOption('filled');
    const gtin = page.getByLabel('GTIN');
    await gtin.fill('09506000013467');
    const beside = page.locator(`#${(await gtin.getAttribute('aria-describedby'))?.split(' ').at(-1)}`);
    expect(await beside.textContent()).toBe('09506000013467 is no GTIN: its last digit is a check digit and would be 6');
    await page.getByRole('button', { name: 'Add the item' }).click();
    await expect.poll(() => page.getByRole('alert').textContent()).toContain('GTIN: 09506000013467 is no GTIN');
    await expectSound(desk);
    await gtin.fill('09506000013466');
    expect(await beside.count()).toBe(0);
    await page.getByRole('button', { name: 'Add the item' }).click();
    await page.getByRole('heading', { level: 1, name: 'WAX-500' }).waitFor();
    expect(await plant.ask('ada.clerk', '/api/items/WAX-500')).toMatchObject({ revision: 1, class: 'filled', gtin: '09506000013466' });
  });

  it('says what a revision changed', async () => {
    const { page, go } = desk;
    await go('/set-up/recipes/RCP-WAX/revise');
    await page.getByLabel('Why it is revised').fill('dye before inhibitor');
    await page.getByRole('button', { name: 'Up with step 5' }).click();
    await page.getByRole('button', { name: 'Make revision 2' }).click();
    const revisions = page.getByRole('table', { name: 'Revisions, newest first' });
    await expect.poll(() => revisions.textContent()).toContain('Step 4: 3 of DYE-BLU ± 10 %, mixed 15 min, was 12 of RUST-INH');
    const { steps } = await plant.ask<{ steps: { item: string }[] }>('ada.clerk', '/api/recipes/RCP-WAX');
    expect(steps.map(({ item }) => item)).toEqual(['WAX-BASE', 'OIL-40', 'SOLV', 'DYE-BLU', 'RUST-INH']);
  });

  it('goes over no revision that somebody else made meanwhile', async () => {
    const { page, go } = desk;
    await go('/set-up/lines/PACK-1/revise');
    await page.getByLabel('Why it is revised').fill('another sign at the door');
    await page.getByLabel('Name').fill('Packing');
    const other = await plant.desk('gwen.quality');
    await other.go('/set-up/lines/PACK-1/revise');
    await other.page.getByLabel('Why it is revised').fill('two tables now');
    await other.page.getByLabel('Name').fill('Packing tables');
    await other.page.getByRole('button', { name: 'Make revision 2' }).click();
    await other.page.getByRole('heading', { level: 1, name: 'PACK-1' }).waitFor();
    await page.getByRole('button', { name: 'Make revision 2' }).click();
    await page.getByText('Somebody made revision 2 while this was open on revision 1').waitFor();
    expect(await page.getByRole('alert').textContent()).toContain('stands at revision 2, not 1');
    await page.getByRole('button', { name: 'Begin again from revision 2' }).click();
    expect(await page.getByLabel('Name').inputValue()).toBe('Packing tables');
    expect(await plant.ask('kit.admin', '/api/lines/PACK-1')).toMatchObject({ revision: 2, name: 'Packing tables' });
  });

  it('tells of a plan that is typed what the server tells of one that stands', async () => {
    const { page, go } = desk;
    await go('/set-up/inspection-plans/CAN-250/revise');
    await page.getByLabel('A lot of').fill('3000');
    const row = page.getByRole('table', { name: /Sample size/ }).locator('tr.chosen');
    const cells = await row.locator('td').allTextContents();
    const told = await plant.ask<{
      sample: { codeLetter: string; first: number; second: number };
      classes: { plan: Record<'ac1' | 're1' | 'ac2' | 're2', number> }[];
    }>('kit.admin', '/api/inspection-plans/CAN-250/preview?lotSize=3000');
    const numbers = told.classes.map(({ plan: { ac1, re1, ac2, re2 } }) => `${ac1} / ${re1}, both ${ac2} / ${re2}`);
    const { codeLetter, first, second } = told.sample;
    expect(cells.slice(1, 5)).toEqual([codeLetter, `${first}, then ${second}`, ...numbers]);
  });

  it('adds a person, who can sign in', async () => {
    const { page, go } = desk;
    const password = 'four words are enough';
    await go('/set-up/new/people');
    await page.getByLabel('Code', { exact: true }).fill('lia.clerk');
    await page.getByRole('checkbox', { name: /Clerk/ }).check();
    await page.getByLabel('First password').fill(password);
    await page.getByLabel('The same again').fill('four words are not');
    await page.getByRole('button', { name: 'Add the person' }).click();
    await expect.poll(() => page.getByRole('alert').textContent()).toContain('The two passwords differ');
    await page.getByLabel('The same again').fill(password);
    await page.getByRole('button', { name: 'Add the person' }).click();
    await page.getByRole('heading', { level: 1, name: 'lia.clerk' }).waitFor();
    const lia = await plant.desk(null);
    await lia.go('/set-up/me');
    await lia.page.getByLabel('Your code').fill('lia.clerk');
    await lia.page.getByLabel('Password', { exact: true }).fill(password);
    await lia.page.keyboard.press('Enter');
    await expect.poll(() => lia.page.getByText('You act as').textContent()).toContain('lia.clerk');
    // A wrong password of one's own is told and ends no session.
    await lia.page.getByLabel('Password now').fill('not this one');
    await lia.page.getByLabel('New password').fill('another four words');
    await lia.page.getByLabel('The same again').fill('another four words');
    await lia.page.getByRole('button', { name: 'Change the password' }).click();
    await expect.poll(() => lia.page.getByRole('alert').textContent()).toContain('the current password is wrong');
    await expectSound(lia);
    await lia.close();
  });

  it('lists the faults of files that are checked, and writes nothing', async () => {
    const { page, go } = desk;
    await go('/set-up/imports');
    await page.getByLabel('Choose the files').setInputFiles(FILES);
    await page.getByRole('button', { name: 'Check the files, write nothing' }).click();
    const faults = page.getByRole('table', { name: 'Faults of the files' });
    await faults.waitFor();
    const row = faults.getByRole('row', { name: /gtin/ });
    expect((await row.locator('td').allTextContents()).slice(0, 4)).toEqual(['items.csv', '5', 'gtin', '09506000134353']);
    expect(await page.getByRole('button', { name: /^Bring over/ }).count()).toBe(0);
    expect(await plant.ask('kit.admin', '/api/imports')).toEqual([]);
    await expectSound(desk);
  });
});
