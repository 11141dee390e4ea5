import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type BrowserPlant, DEMO_PASSWORD, type Desk, expectSound, startBrowserPlant, TABLET } from './browser.js';

interface RunTold {
  readonly charges: readonly { readonly lot: string; readonly quantity: string; readonly chargedAt: string }[];
}

/** A command to the API by the desk's own session, to prepare what the floor finds. */
async function send<Answer>(desk: Desk, path: string, body: object): Promise<Answer> {
  const answer = await desk.page.request.post(path, { data: { commandId: `test ${path} ${JSON.stringify(body).length}`, ...body } });
  if (!answer.ok()) throw new Error(`${path} answers ${answer.status()}: ${await answer.text()}`);
  return (await answer.json()) as Answer;
}

/** Seconds that a clock like `29:47` still shows. */
function secondsOf(clock: string): number {
  const [minutes = 0, seconds = 0] = clock.split(':').map(Number);
  return minutes * 60 + seconds;
}

describe('the floor in a browser', () => {
  let plant: BrowserPlant;
  let desk: Desk;
  let wax: string;
  let run: string;
  const told = (): Promise<RunTold> => plant.ask<RunTold>('ben.mix', `/api/runs/${run}`);

  beforeAll(async () => {
    plant = await startBrowserPlant();
    const clerk = await plant.desk('ada.clerk');
    const delivery = await send<{ lines: { lot: string }[] }>(clerk, '/api/deliveries', {
      supplier: 'S-LARK',
      documentType: 'delivery note',
      document: 'LW 9001',
      location: 'RACK-1',
      condition: 'sound',
      lines: [{ item: 'WAX-BASE', quantity: '400', supplierLot: 'LW-9001' }],
    });
    wax = delivery.lines[0]!.lot;
    const quality = await plant.desk('gwen.quality');
    await send(quality, '/api/urgent-releases', {
      lot: wax,
      setsAside: ['quarantine'],
      reason: 'the kettle waits',
      password: DEMO_PASSWORD,
    });
    desk = await plant.desk('ben.mix', { size: TABLET });
    await send(desk, '/api/vessels/V-1/emptied', { reason: 'too old to carry on' });
    await send(desk, '/api/vessels/V-1/cleaned', { method: 'hot wax flush' });
    await Promise.all([clerk.close(), quality.close()]);
  });
  afterAll(() => plant.stop());

  it('starts a batch and charges by scan: the lot is shown, the quantity is there, one press charges it', async () => {
    const { page } = desk;
    await desk.go('/production/start?kind=mixing&vessel=V-1');
    await page.getByRole('button', { name: /^Start mixing/u }).click();
    await page.waitForURL(/RUN-/u);
    run = page.url().split('/').at(-1)!;
    await page.getByText('Next: step 1 of 5').waitFor();
    await desk.scan(wax);
    const charge = page.getByRole('button', { name: `Charge 240 kg of ${wax}` });
    await charge.waitFor();
    expect(await page.getByLabel(`Charge ${wax}`).getByLabel('Quantity (kg)').inputValue()).toBe('240');
    expect((await told()).charges).toEqual([]);
    await charge.click();
    await page.getByText('Next: step 2 of 5').waitFor();
    expect((await told()).charges).toMatchObject([{ lot: wax, quantity: '240' }]);
    expect(await page.getByRole('img', { name: /240 kg charged; least 235\.2 kg, target 240 kg, most 244\.8 kg; within/u }).count()).toBe(
      1,
    );
    await expectSound(desk);
  });

  it('shows every reason of a refused charge, each with where it is put right', async () => {
    const { page } = desk;
    await desk.scan('B26-00092');
    const charge = page.getByRole('button', { name: /^Charge .* of B26-00092$/u });
    await charge.waitFor();
    const [answer] = await Promise.all([page.waitForResponse(/\/charges$/u), charge.click()]);
    const { reasons } = (await answer.json()) as { reasons: { code: string; detail: string }[] };
    expect(reasons.map(({ code }) => code)).toEqual(expect.arrayContaining(['made-from-held', 'deviation-not-in-recipe']));
    const refused = page.getByRole('alert');
    await refused.waitFor();
    const shown = (await refused.textContent()) ?? '';
    for (const { detail } of reasons) expect(shown).toContain(detail);
    expect(await page.evaluate('document.activeElement.getAttribute("role")')).toBe('alert');
    expect(await refused.getByRole('link', { name: 'See H-0004' }).getAttribute('href')).toBe('/lots/holds/H-0004');
    expect((await told()).charges).toHaveLength(1);
    await expectSound(desk);
    await page.getByRole('button', { name: 'Not this one' }).click();
  });

  it('keeps a mixing time and what is being charged through a reload: both are the record and the device, not the page', async () => {
    const { page } = desk;
    await desk.scan(wax);
    const quantity = page.getByLabel(`Charge ${wax}`).getByLabel('Quantity (kg)');
    await quantity.fill('1.5');
    const timer = page.getByRole('timer');
    const before = secondsOf(await timer.innerText());
    await page.waitForTimeout(2500);
    await page.reload();
    await quantity.waitFor();
    expect(await quantity.inputValue()).toBe('1.5');
    const left = secondsOf(await timer.innerText());
    const gone = (Date.parse(plant.now()) - Date.parse((await told()).charges[0]!.chargedAt)) / 1000;
    expect(left).toBeLessThan(before - 1);
    expect(Math.abs(30 * 60 - gone - left)).toBeLessThan(4);
    expect(desk.faults).toEqual([]);
  });

  it('keeps charges without a connection with their time, sends each once, and says what was refused then', async () => {
    const { page } = desk;
    await page.getByLabel(`Charge ${wax}`).getByLabel('Quantity (kg)').fill('2');
    await desk.connect(false);
    const pressed = Date.parse(plant.now());
    await page.getByRole('button', { name: `Charge 2 kg of ${wax}` }).click();
    const waiting = page.getByRole('status').filter({ hasText: 'No connection.' });
    await waiting.getByText(`of ${wax} into ${run}`).waitFor();
    // A lot that nobody looked up before: nothing can be said of it now.
    await desk.scan('R26-00058');
    const howMuch = page.getByLabel('Quantity, in the lot’s own unit');
    await howMuch.fill('3');
    // The server is asked again and again meanwhile; the field stays under the fingers.
    await page.evaluate("dispatchEvent(new Event('visibilitychange'))");
    await page.waitForTimeout(3500);
    expect(await howMuch.evaluate((field) => field === field.ownerDocument.activeElement)).toBe(true);
    await page.getByRole('button', { name: 'Keep the charge of R26-00058' }).click();
    await waiting.getByText(`3 of R26-00058 into ${run}`).waitFor();
    await desk.connect(true);
    const refused = page.getByRole('status').filter({ hasText: 'was refused' });
    await refused.waitFor();
    expect(await refused.textContent()).toContain('give a reason to record the deviation');
    const { charges } = await told();
    expect(charges.map(({ lot, quantity }) => [lot, quantity])).toEqual([
      [wax, '240'],
      [wax, '2'],
    ]);
    expect(Math.abs(Date.parse(charges[1]!.chargedAt) - pressed)).toBeLessThan(2000);
    await refused.getByRole('link', { name: 'Correct it' }).click();
    const back = page.getByLabel('Charge R26-00058').getByLabel('Quantity (kg)');
    await back.waitFor();
    expect(await back.inputValue()).toBe('3');
    expect(await refused.count()).toBe(0);
  });

  it('takes a scan into the field of an open dialog, and into nothing behind it', async () => {
    const { page } = desk;
    await page
      .getByRole('button', { name: `Put back ${wax}` })
      .first()
      .click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('Where to').focus();
    await desk.scan('RACK-2');
    expect(await dialog.getByLabel('Where to').inputValue()).toBe('RACK-2');
    await dialog.getByLabel('How much (kg)').focus();
    await desk.scan('R26-00061');
    expect(await dialog.getByLabel('How much (kg)').inputValue()).toBe('');
    await dialog.getByLabel('How much (kg)').fill('1,5');
    await dialog.getByLabel('Why').fill('not needed');
    await dialog.getByRole('button', { name: 'Put it back' }).click();
    await dialog.waitFor({ state: 'detached' });
    expect((await told()).charges[0]).toMatchObject({ lot: wax, quantity: '238.5' });
    expect(await page.getByLabel('Charge R26-00058').count()).toBe(1);
    expect(desk.faults).toEqual([]);
  });
});
