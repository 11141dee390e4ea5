import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserPlant, expectSound, startBrowserPlant } from './browser.js';

/** A filled lot of 753 cans with one changeover of can bodies, at piece 209. */
const LOT = '/lots/F26-00095';

const selected = async (page: Page): Promise<string> =>
  `${await page.getByLabel('From piece').inputValue()}-${await page.getByLabel('To piece').inputValue()}`;
const shown = async (page: Page): Promise<string | null> => page.locator('.ribbon-bar [role=status]').textContent();
const cell = (page: Page, name: string) => page.locator(`[role=gridcell][aria-label^="${name}"]`).first();
const boxOf = async (page: Page, name: string) => (await cell(page, name).boundingBox()) ?? { x: 0, y: 0, width: 0, height: 0 };

describe('the ribbon', () => {
  let plant: BrowserPlant;
  beforeAll(async () => {
    plant = await startBrowserPlant();
  });
  afterAll(() => plant.stop());

  it('selects by keyboard: a part, more parts with Shift, and numbers that are typed', async () => {
    const desk = await plant.desk('gwen.quality');
    const { page } = desk;
    await desk.go(LOT);
    await page.locator('[role=gridcell][tabindex="0"]').focus();
    await page.keyboard.press('ArrowDown');
    expect(await page.locator('.ribbon-told').textContent()).toBe('Can body 250 g: P26-00053 · pieces 1–208 · 208\u00a0pieces');
    await page.keyboard.press('Enter');
    expect(await selected(page)).toBe('1-208');
    await page.keyboard.press('Shift+ArrowRight');
    expect(await selected(page)).toBe('1-753');
    await page.keyboard.press('Escape');
    expect(await selected(page)).toBe('-');
    await page.getByLabel('From piece').fill('300');
    await page.getByLabel('To piece').fill('999');
    expect(await page.getByLabel('To piece').getAttribute('aria-invalid')).toBe('true');
    await page.getByLabel('To piece').fill('320');
    await page.keyboard.press('Tab');
    expect(await page.locator('.ribbon-count').textContent()).toBe('21\u00a0pieces of 753');
    expect(await page.locator('svg .selected rect').count()).toBe(1);
    await expectSound(desk);
    await desk.close();
  });

  it('selects by pointer: a click takes a part, a drag takes pieces', async () => {
    const { page, faults, go, close } = await plant.desk('gwen.quality');
    await go(LOT);
    await cell(page, 'Can body 250 g: P26-00079').click();
    expect(await selected(page)).toBe('209-753');
    const { x, y, width } = await boxOf(page, 'Pieces');
    await page.mouse.move(x + width / 4, y + 8);
    await page.mouse.down();
    await page.mouse.move(x + width / 2, y + 8, { steps: 4 });
    await page.mouse.up();
    const [from = 0, to = 0] = (await selected(page)).split('-').map(Number);
    expect(from).toBeGreaterThan(150);
    expect(from).toBeLessThan(230);
    expect(to).toBeGreaterThan(340);
    expect(to).toBeLessThan(420);
    expect(faults).toEqual([]);
    await close();
  });

  it('comes near enough to hit the pieces at a changeover, and says what it shows', async () => {
    const { page, faults, go, close } = await plant.desk('gwen.quality');
    await go(LOT);
    expect(await shown(page)).toBe('Showing pieces 1 to 753 of 753');
    await cell(page, 'Can body 250 g: P26-00079').focus();
    for (let i = 0; i < 7; i += 1) await page.keyboard.press('+');
    expect(await shown(page)).toMatch(/^Showing pieces 20\d to 21\d of 753$/u);
    expect(await page.evaluate('document.activeElement.getAttribute("aria-label")')).toMatch(/P26-00079/u);
    const after = await boxOf(page, 'Can body 250 g: P26-00079');
    await page.mouse.move(after.x - 20, after.y + 8);
    await page.mouse.down();
    await page.mouse.move(after.x + 20, after.y + 8, { steps: 4 });
    await page.mouse.up();
    expect(await selected(page)).toBe('208-209');
    await page.getByRole('button', { name: 'Whole' }).click();
    expect(await shown(page)).toBe('Showing pieces 1 to 753 of 753');
    await page.getByRole('button', { name: 'Show it near' }).click();
    expect(await shown(page)).toMatch(/^Showing pieces 20\d to 21\d of 753$/u);
    expect(faults).toEqual([]);
    await close();
  });
});
