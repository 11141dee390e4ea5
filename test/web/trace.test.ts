import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { TraceAnswer } from '../../shared/api/trace.js';
import { type BrowserPlant, type Desk, DESKTOP, expectSound, runsOut, smallTargets, startBrowserPlant, TABLET } from './browser.js';

const FIRST_DRAWN = '.river .node';

/** What only a browser shows of the trace: the river by keyboard, what three views mark together, and the slider over the ledger. */
/** Which texts of the river lie over a text of another node, or over a node; two lines of one node may touch. */
const OVERLAPS = `(() => {
  const boxes = (list) => [...list].map((one) => ({ what: one.textContent, box: one.getBBox() }));
  const texts = boxes(document.querySelectorAll('.river .labels text')).filter(({ what }) => what !== '');
  const marks = boxes(document.querySelectorAll('.river .nodes .mark'));
  const over = (a, b, most) =>
    a.x < b.x + b.width - 0.5 && b.x < a.x + a.width - 0.5 && a.y < b.y + b.height - most && b.y < a.y + a.height - most;
  return texts.flatMap((one, i) => [
    ...texts.slice(i + 1).filter((other) => over(one.box, other.box, 3)).map((other) => one.what + ' over ' + other.what),
    ...marks.filter(({ box }) => over(one.box, box, 1)).map(() => one.what + ' over a node'),
  ]);
})()`;

describe('the trace in a browser', () => {
  let plant: BrowserPlant;
  let desk: Desk;
  const node = (id: string) => desk.page.locator(`.river [data-node="${id}"]`);
  const told = () => desk.page.locator('.river-told').innerText();
  const focusedNode = () => desk.page.evaluate<string | null>('document.activeElement?.getAttribute("data-node")');

  beforeAll(async () => {
    plant = await startBrowserPlant();
    desk = await plant.desk('gwen.quality');
  });
  afterAll(() => plant.stop());

  it('ranks suspects and traces the first one forward', async () => {
    const asking = await plant.desk('gwen.quality');
    const { page } = asking;
    await asking.go('/trace/suspects');
    await page.getByLabel('Failed pieces').fill('F26-00045 155-160,300,310');
    await page.getByLabel(/^Compared with/u).fill('F26-00045\nF26-00067');
    await page.getByRole('button', { name: 'Rank the suspects' }).click();
    const first = page.locator('table tbody tr').first();
    await first.waitFor();
    expect(await first.innerText()).toContain('P26-00007');
    expect(await first.innerText()).toContain('more than chance');
    await expectSound(asking);
    await first.getByRole('link', { name: /P26-00007/u }).click();
    await page.waitForURL(/\/trace\?lot=P26-00007/u);
    await page.locator(FIRST_DRAWN).first().waitFor();
    await asking.close();
  });

  it('goes from a scanned label straight to its trace, and says totals that are the API’s', async () => {
    const { page } = desk;
    await desk.go('/trace');
    await desk.scan('R26-00032');
    await page.waitForURL(/lot=R26-00032/u);
    await page.locator(FIRST_DRAWN).first().waitFor();
    const answer = await plant.ask<TraceAnswer>('gwen.quality', '/api/trace?lot=R26-00032');
    const facts = (await page.locator('.facts').first().innerText()).replaceAll(/[\u00a0\s]+/gu, ' ');
    expect(facts).toContain(`Lots, origin included ${answer.totals.lots + 1} `);
    expect(facts).toContain(`Consignees ${answer.totals.consignees} `);
    expect(facts.replaceAll(' ', '')).toContain(`Pieces${answer.totals.pieces}`);
    expect(await runsOut(page)).toBe(0);
    await expectSound(desk);
  });

  it('walks the river by arrows, lights up what is up- and downstream, and tells of it', async () => {
    const { page } = desk;
    await node('lot R26-00032').focus();
    await page.keyboard.press('ArrowRight');
    const batch = await focusedNode();
    expect(batch).toMatch(/^lot B26-/u);
    await page.keyboard.press('ArrowLeft');
    expect(await focusedNode()).toBe('lot R26-00032');
    await page.keyboard.press('ArrowRight');
    expect(await focusedNode()).toBe(batch);
    expect(await told()).toContain(batch?.replace('lot ', ''));
    const byKeyboard = await page.locator('.river .lit .band').count();
    await page.keyboard.press('Tab');
    await page.locator(`.river [data-node="${batch}"] .mark`).first().hover();
    expect(await page.locator('.river .lit .band').count()).toBe(byKeyboard);
    expect(byKeyboard).toBeLessThan(await page.locator('.river .bands .band').count());
  });

  it('marks the same lot in river, table and ribbon, and keeps what was chosen in the address', async () => {
    const { page } = desk;
    const row = page.locator('#lots tr', { hasText: 'F26-00067' });
    await row.hover();
    expect(await told()).toContain('F26-00067');
    await node('lot F26-00083').focus();
    await page.keyboard.press('Enter');
    await page.locator('#ribbon h2', { hasText: 'F26-00083' }).waitFor();
    expect(await page.locator('#lots tr.chosen').innerText()).toContain('F26-00083');
    expect(page.url()).toContain('chosen=lot+F26-00083');
    expect(await node('lot F26-00083').getAttribute('aria-pressed')).toBe('true');
    await page.locator('#ribbon .ribbon').waitFor();
    await row.getByRole('button', { name: 'F26-00067' }).click();
    await page.locator('#ribbon h2', { hasText: 'F26-00067' }).waitFor();
    expect(await node('lot F26-00067').getAttribute('aria-pressed')).toBe('true');
  });

  it('folds what is too much to read, unfolds it with Enter, folds it again with minus, and hides no count', async () => {
    const { page } = desk;
    const lots = ['R26-00001', 'R26-00002', 'R26-00003', 'R26-00004', 'R26-00005', 'P26-00006', 'P26-00007', 'P26-00028', 'R26-00009'];
    await desk.go(`/trace?${lots.map((lot) => `lots=${lot}`).join('&')}`);
    const fold = page.locator('.river .node.fold').first();
    await fold.waitFor();
    const id = await fold.getAttribute('data-node');
    const [, count] = /^(\d+) × /u.exec((await fold.getAttribute('aria-label')) ?? '') ?? [];
    const drawn = await page.locator(FIRST_DRAWN).count();
    await fold.focus();
    await page.keyboard.press('Enter');
    await expect.poll(() => page.locator(FIRST_DRAWN).count()).toBe(drawn - 1 + Number(count));
    expect(await focusedNode()).not.toBeNull();
    await page.keyboard.press('-');
    await expect.poll(() => page.locator(FIRST_DRAWN).count()).toBe(drawn);
    expect(await focusedNode()).toBe(id);
  });

  it('lays no text over another or over a node, folded and opened, at a desk and on a tablet', async () => {
    const { page } = desk;
    for (const size of [DESKTOP, TABLET]) {
      await page.setViewportSize(size);
      await desk.go('/trace?lots=R26-00032&lots=R26-00001&lots=P26-00006&lots=P26-00028');
      await page.locator(FIRST_DRAWN).first().waitFor();
      expect(await page.evaluate<string[]>(OVERLAPS)).toEqual([]);
      await page.locator('.river .node.fold').first().focus();
      await page.keyboard.press('Enter');
      await page
        .getByRole('button', { name: /^Fold .* again$/u })
        .first()
        .waitFor();
      expect(await page.evaluate<string[]>(OVERLAPS)).toEqual([]);
    }
    await page.setViewportSize(DESKTOP);
  });

  it('traces codes pasted together as one, and says which of them is no lot', async () => {
    const { page } = desk;
    await desk.go('/trace');
    const box = page.getByLabel('Scan, type or paste anything to trace');
    await box.focus();
    await page.evaluate(`{
      const clipboardData = new DataTransfer();
      clipboardData.setData('text/plain', 'F26-00045\\r\\nB26-00041\\n');
      document.activeElement.dispatchEvent(new ClipboardEvent('paste', { clipboardData, bubbles: true, cancelable: true }));
    }`);
    expect(await box.inputValue()).toBe('F26-00045, B26-00041');
    await page.keyboard.press('Enter');
    await page.waitForURL(/lots=F26-00045&lots=B26-00041/u);
    await box.fill('F26-00045 NOT-OURS');
    await page.keyboard.press('Enter');
    await page.getByRole('link', { name: 'NOT-OURS' }).waitFor();
    await page.getByRole('link', { name: 'Trace the one that is a lot' }).click();
    await page.waitForURL(/lots=F26-00045$/u);
    await page.locator(FIRST_DRAWN).first().waitFor();
    const csv = await plant.bytes(
      'gwen.quality',
      (await page.getByRole('link', { name: 'Every piece as CSV' }).getAttribute('href')) ?? '',
    );
    const pieces = await page.locator('.facts dd').nth(1).innerText();
    expect(pieces.replaceAll(/\D/gu, '')).toBe(`${csv.toString().trim().split('\n').length - 1}`);
    await expectSound(desk);
  });

  it('slides over the ledger by keyboard, shows what was known then, and goes back', async () => {
    const { page } = desk;
    await desk.go('/trace?lot=R26-00032');
    await page.locator(FIRST_DRAWN).first().waitFor();
    const slider = page.getByRole('slider');
    const lots = () => page.locator('.facts dd').first().innerText();
    const now = await lots();
    await page.getByLabel('Entry', { exact: true }).fill('700');
    await page.waitForURL(/asKnownAt=700/u);
    await expect.poll(lots, { timeout: 10_000 }).not.toBe(now);
    const then = await plant.ask<TraceAnswer>('gwen.quality', '/api/trace?lot=R26-00032&asKnownAt=700');
    expect(await lots()).toBe(`${then.totals.lots + 1}`);
    await slider.focus();
    await page.keyboard.press('ArrowRight');
    await page.waitForURL(/asKnownAt=701/u);
    const { asKnownAt } = await plant.ask<TraceAnswer>('gwen.quality', '/api/trace?lot=R26-00032');
    expect(await slider.getAttribute('aria-valuetext')).toMatch(new RegExp(`^entry 701 of ${asKnownAt.seq}, \\d+\\s\\w+\\s2026`, 'u'));
    await page.goBack();
    await expect.poll(lots, { timeout: 10_000 }).toBe(now);
    expect(page.url()).not.toContain('asKnownAt');
  });

  it('reads on a tablet in the dark, for gloved fingers, without running out of the page', async () => {
    const tablet = await plant.desk('iris.recall', { theme: 'dark', size: TABLET });
    await tablet.go('/trace?supplierLot=RI-2207');
    await tablet.page.locator(FIRST_DRAWN).first().waitFor();
    expect(await runsOut(tablet.page)).toBe(0);
    expect(await smallTargets(tablet.page)).toEqual([]);
    await tablet.page.getByRole('button', { name: 'Open a recall from this' }).click();
    expect(await tablet.page.locator('#recall form').innerText()).toMatch(/10.838 pieces/u);
    await expectSound(tablet);
    await tablet.close();
  });
});
