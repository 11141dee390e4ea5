import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserPlant, DEMO_PASSWORD, type Desk, expectSound, runsOut, smallTargets, startBrowserPlant, TABLET } from './browser.js';

const LOT = 'F26-00095';
/** A picture of one point. */
const PICTURE = Buffer.from('iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==', 'base64');

interface Disposed {
  readonly accounts: readonly { readonly affected: string; readonly disposed: string; readonly open: string }[];
  readonly dispositions: readonly {
    readonly disposition: number;
    readonly kind: string;
    readonly quantity: string;
    readonly digest: string;
    readonly lacks: readonly string[];
    readonly signatures: readonly { readonly by: string; readonly broken: boolean; readonly digest: string }[];
  }[];
}

/** What a report is made of before the page is looked at; the way there by hand is a story of its own. */
class Hands {
  readonly #cookies = new Map<string, string>();
  constructor(private readonly plant: BrowserPlant) {}

  async #cookie(person: string): Promise<string> {
    const known = this.#cookies.get(person);
    if (known !== undefined) return known;
    const body = JSON.stringify({ person, password: DEMO_PASSWORD });
    const answer = await fetch(`${this.plant.address}/api/sign-in`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body,
    });
    const cookie = answer.headers.getSetCookie()[0]?.split(';')[0] ?? '';
    this.#cookies.set(person, cookie);
    return cookie;
  }

  async post<Body>(person: string, path: string, body: object): Promise<Body> {
    const headers = { 'content-type': 'application/json', cookie: await this.#cookie(person), origin: this.plant.address };
    const answer = await fetch(`${this.plant.address}/api/reports${path}`, { method: 'POST', headers, body: JSON.stringify(body) });
    if (!answer.ok) throw new Error(`${path}: ${await answer.text()}`);
    return (await answer.json()) as Body;
  }
}

const signed = (more: object = {}): object => ({ password: DEMO_PASSWORD, reason: 'looked into', ...more });
const review = (severity: string): object =>
  signed({ severity, investigate: { needed: false, reason: 'once' }, inform: { needed: false, reason: 'made here' } });
const numberIn = (text: string | null): number => Number(text?.replaceAll(/[^\d.]/gu, ''));

describe('a report on its page', () => {
  let plant: BrowserPlant;
  let hands: Hands;
  let desk: Desk;
  let report: string;
  const disposed = (): Promise<Disposed> => plant.ask<Disposed>('gwen.quality', `/api/reports/${report}/dispositions`);
  const open = (): Promise<void> => desk.go(`/nonconformance/${report}`);

  beforeAll(async () => {
    plant = await startBrowserPlant();
    hands = new Hands(plant);
    desk = await plant.desk('gwen.quality', { theme: 'dark', size: TABLET });
    const raised = { source: { kind: 'audit' }, requirement: 'A can closes', found: 'loose lids', severity: 'major' };
    ({ report } = await hands.post<{ report: string }>('esme.lab', '', { ...raised, parts: [{ lot: LOT, pieces: '301-400' }] }));
    await hands.post('gwen.quality', `/${report}/containment`, signed());
    await hands.post('gwen.quality', `/${report}/review`, review('major'));
    const propose = (kind: string, pieces: string, more: object = {}) =>
      hands.post('gwen.quality', `/${report}/dispositions`, { kind, lot: LOT, pieces, reason: 'the only sound way', ...more });
    await propose('scrap', '301-330');
    await propose('rework', '331-345', { adverseEffect: 'none' });
    await propose('scrap', '346-355');
  });
  afterAll(() => plant.stop());

  it('NC-6: the bar that adds up is to scale, and its numbers are those of the API', async () => {
    const { page } = desk;
    await open();
    const [account] = (await disposed()).accounts;
    expect(account).toMatchObject({ affected: '100', disposed: '55', open: '45' });
    const rows = page.locator('.adding-up tbody tr');
    const told = new Map<string, number>();
    for (const row of await rows.all()) {
      const cells = await row.locator('td').allTextContents();
      told.set(cells[0] ?? '', numberIn(cells[2] ?? null));
    }
    expect([...told]).toEqual([
      ['Scrap', 40],
      ['Rework', 15],
      ['Undecided', 45],
    ]);
    const bar = page.locator('.adding-up svg');
    expect(await bar.getAttribute('aria-label')).toMatch(/100.pieces of F26-00095 affected: 55.pieces disposed of, 45.pieces undecided/u);
    const widths = await bar.locator('.stretch rect').evaluateAll((rects) => rects.map((rect) => Number(rect.getAttribute('width'))));
    const whole = widths.reduce((sum, width) => sum + width, 0);
    expect(widths.map((width) => Math.round((width / whole) * 100))).toEqual([40, 15, 45]);
  });

  it('draws what is typed into the bar, and refuses more than is left before anything is sent', async () => {
    const { page } = desk;
    await page.getByRole('button', { name: 'Propose another disposition' }).click();
    await page.getByLabel('Becomes').selectOption('sort');
    await page.getByLabel('Pieces', { exact: true }).fill('356-360');
    const asked = await page.locator('.adding-up .stretch.asked title').textContent();
    expect(asked).toContain('5');
    await page.getByLabel('Pieces', { exact: true }).fill('350-360');
    await page.getByLabel('Why', { exact: true }).fill('some are tight');
    await page.getByRole('button', { name: 'Propose it' }).click();
    await expect.poll(() => page.getByRole('alert').textContent()).toContain('350–355: not undecided');
    expect((await disposed()).dispositions.length).toBe(3);
    await page.getByLabel('Pieces', { exact: true }).fill('');
    await page.getByRole('button', { name: 'Propose it' }).click();
    await expect.poll(async () => (await disposed()).accounts[0]?.open, { timeout: 10_000 }).toBe('0');
    await expect.poll(() => page.locator('.adding-up').textContent(), { timeout: 10_000 }).not.toContain('Undecided');
    expect(await page.locator('.adding-up tbody tr').count()).toBe(3);
  });

  it('NR-25: a signature that a change has broken is shown as broken, and is given anew', async () => {
    const { page } = desk;
    await hands.post('finn.quality', `/${report}/dispositions/1/signature`, { password: DEMO_PASSWORD, as: 'quality' });
    for (const n of [2, 3, 4]) {
      await hands.post('finn.quality', `/${report}/dispositions/${n}/signature`, { password: DEMO_PASSWORD, as: 'quality' });
    }
    await open();
    const card = page.getByRole('article', { name: 'Disposition 1', exact: true });
    expect(await card.getByText('Broken', { exact: true }).count()).toBe(0);
    await hands.post('gwen.quality', `/${report}/review`, review('minor'));
    await open();
    const [first] = (await disposed()).dispositions;
    expect(first?.signatures).toMatchObject([{ by: 'finn.quality', broken: true }]);
    await card.getByText('Broken', { exact: true }).waitFor();
    const shown = (await card.textContent()) ?? '';
    expect(shown).toContain('A signature is broken.');
    expect(shown).toContain(`signed what has the digest ${first?.signatures[0]?.digest.slice(0, 8)}`);
    expect(shown).toContain(`what stands now has ${first?.digest.slice(0, 8)}`);
    expect(shown).toContain('Still lacks a signature of quality');
    await expectSound(desk);
    expect(await smallTargets(page)).toEqual([]);
    expect(await runsOut(page)).toBe(0);
    await card.getByLabel('Your password').fill(DEMO_PASSWORD);
    await card.getByRole('button', { name: 'Sign disposition 1 as quality' }).click();
    await card.getByText('gwen.quality as quality').waitFor();
    expect(await card.getByText('Still lacks').count()).toBe(0);
    expect((await disposed()).dispositions[0]?.signatures.map(({ by, broken }) => [by, broken])).toEqual([
      ['finn.quality', true],
      ['gwen.quality', false],
    ]);
  });

  it('takes photographs and files with a report: what is refused is said, the rest stays and is shown on its page', async () => {
    const { page, go } = desk;
    const file = (name: string, content: Buffer | string) => ({ name, mimeType: '', buffer: Buffer.from(content) });
    await go('/nonconformance/new');
    const chooser = page.getByLabel('Choose files');
    await chooser.setInputFiles([
      file('lid.png', PICTURE),
      file('lid.exe', Buffer.of(0x4d, 0x5a, 0, 1)),
      file('note.txt', 'two lids are loose'),
    ]);
    await page.getByText('2 stored', { exact: true }).waitFor();
    expect(await page.getByRole('alert').textContent()).toContain('lid.exe');
    await page.getByRole('button', { name: 'Leave out note.txt' }).click();
    await page.getByText('1 stored', { exact: true }).waitFor();
    await page.reload();
    const picture = page.getByRole('img', { name: 'lid.png' });
    await expect.poll(() => picture.evaluate((image) => (image as unknown as { naturalWidth: number }).naturalWidth)).toBe(1);
    await page.getByLabel('Severity').selectOption('minor');
    await page.getByLabel('Requirement that is not met').fill('A can closes');
    await page.getByLabel('What was found instead').fill('a lid that is loose');
    await page.getByRole('button', { name: 'Add a lot' }).click();
    await page.getByRole('combobox', { name: /^Lot/u }).fill(LOT);
    await page.getByLabel('Requirement that is not met').click();
    await page.getByRole('button', { name: 'Raise the report' }).click();
    await page.locator('img[alt^="File 1 of NC-"]').waitFor({ state: 'attached' });
    await expectSound(desk);
  });
});
