import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writtenFigure } from '../../src/web/pictures/plot-axis.js';
import { type BrowserPlant, type Desk, expectSound, runsOut, smallTargets, startBrowserPlant, TABLET } from './browser.js';

interface Inspected {
  readonly inspection: string;
  readonly toInspect: number;
  readonly tallies: readonly {
    readonly conforming: number;
    readonly items: readonly { readonly piece: number | null; readonly found: readonly object[] }[];
  }[];
}
interface Curve {
  readonly points: readonly { readonly quality: number; readonly acceptance: number; readonly averageOutgoing: number }[];
  readonly producersRisk: { readonly risk: number };
}

/** Longer than the pause after which a key is a press of a person and not of a scanner. */
const PERSON = 150;

async function press(desk: Desk, keys: string): Promise<void> {
  for (const key of keys) {
    await desk.page.keyboard.press(key);
    await desk.page.waitForTimeout(PERSON);
  }
}

describe('inspection in a browser', () => {
  let plant: BrowserPlant;
  let pump: { lot: string; piece: number };
  let inspection: string;
  const told = (): Promise<Inspected> => plant.ask('esme.lab', `/api/inspections/${inspection}`);

  beforeAll(async () => {
    plant = await startBrowserPlant();
    const { found } = await plant.ask<{ found: { lot: string; piece: number }[] }>('esme.lab', '/api/find?text=K-00370');
    pump = found[0]!;
    const quality = await plant.desk('gwen.quality');
    await quality.go(`/inspection/new?lot=${pump.lot}&pieces=${pump.piece}-${pump.piece + 2}`);
    await quality.page.getByLabel('Why, or what was done').fill('a customer heard air escape');
    await quality.page.getByRole('button', { name: 'Open the inspection' }).click();
    await quality.page.waitForURL(/IN-/u);
    inspection = quality.page.url().split('/').at(-1)!;
    await quality.close();
  });
  afterAll(() => plant.stop());

  it('tallies by keyboard: a press an item, the serial by scan, undone by a press, written down together', async () => {
    const desk = await plant.desk('esme.lab', { size: TABLET });
    const { page } = desk;
    await desk.go(`/inspection/${inspection}`);
    await page.getByRole('button', { name: `Begin ${inspection}` }).click();
    await page.getByRole('button', { name: /^Conforming/u }).waitFor();
    const toTake = (await told()).toInspect;
    const panel = page.getByRole('region', { name: /acceptance and rejection numbers/u });
    await expect.poll(() => panel.textContent()).toContain(`Take ${toTake}`);

    const leaks = page.getByRole('button', { name: /^Leaks/u });
    const key = (await leaks.locator('kbd').textContent()) ?? '';
    await press(desk, 'cc');
    const counted = page.getByRole('status').filter({ hasText: 'conforming,' });
    await expect.poll(() => counted.textContent()).toContain('2 conforming, 0 nonconforming');
    await press(desk, 'u');
    await desk.scan('K-00370');
    await page.getByText(`piece ${pump.piece} of ${pump.lot}`).waitFor();
    await expect.poll(() => counted.textContent()).toContain('1 conforming, 0 nonconforming'); // nothing the scanner typed was a press
    await page.waitForTimeout(PERSON); // a person's hand comes back from the scanner
    await press(desk, key);
    await expect.poll(() => counted.textContent()).toContain('1 conforming, 1 nonconforming. Last press: Leaks');
    await expect.poll(() => panel.getByRole('row', { name: /major/u }).textContent()).toContain('0 + 1');
    expect((await told()).tallies).toEqual([]);
    expect([await smallTargets(page), await runsOut(page)]).toEqual([[], 0]);

    await page.getByRole('button', { name: 'Write down 2 items' }).click();
    await page.getByRole('table', { name: 'Tallies' }).waitFor();
    const { tallies } = await told();
    const found = [{ defect: 'D-LEAK', characteristic: 'TIGHT', class: 'major', count: 1 }];
    expect(tallies).toMatchObject([{ conforming: 1, items: [{ piece: pump.piece, found }] }]);
    await page.getByRole('button', { name: `Close ${inspection}: ${pump.lot} is not accepted` }).waitFor();
    await expectSound(desk);
    await desk.close();
  });

  it('draws the operating characteristic with the numbers of the API, read by pointer, by keys and from the table', async () => {
    const curve = await plant.ask<Curve>('esme.lab', '/api/sampling/oc?n=80&ac=2&aql=1&distribution=binomial');
    const desk = await plant.desk('esme.lab');
    const { page } = desk;
    await desk.go('/inspection/oc?lotSize=1200&level=II&aql=1.0&severity=normal&type=single&basis=items');
    const picture = page.getByRole('img', { name: /Operating characteristic/u });
    const risk = `${writtenFigure(curve.producersRisk.risk * 100, 3)} %`;
    expect(await picture.getAttribute('aria-label')).toContain(`Producer's risk ${risk} at AQL 1`);
    expect(((await picture.locator('path.line').getAttribute('d')) ?? '').split('L')).toHaveLength(curve.points.length);

    await page.getByLabel('Read the curve').focus();
    for (let steps = 0; steps < 8; steps++) await page.keyboard.press('ArrowRight');
    const { quality, acceptance } = curve.points[8]!;
    const reading = `Of lots with ${writtenFigure(quality)} percent nonconforming, ${writtenFigure(acceptance * 100)} % are accepted`;
    await expect.poll(() => page.getByText(reading).count()).toBe(1);

    await page.getByText('The same as a table').click();
    const cells = await page
      .getByRole('table', { name: /point by point/u })
      .locator('tbody tr')
      .allInnerTexts();
    const columns = cells.map((row) => row.split('\t').map((cell) => cell.trim()));
    expect(columns.map((row) => [row[0], row[1], row[3]])).toEqual(
      curve.points.map((point) => [
        writtenFigure(point.quality),
        `${writtenFigure(point.acceptance * 100)} %`,
        writtenFigure(point.averageOutgoing),
      ]),
    );
    await expectSound(desk);
    await desk.close();
  });
});
