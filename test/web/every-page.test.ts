import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { axeFaults, type BrowserPlant, type Desk, DESKTOP, runsOut, smallTargets, startBrowserPlant, TABLET } from './browser.js';
import { PAGES, type PageVisit } from './pages.js';

/** Set by `npm run screenshots`: where the pictures go. */
const PICTURES = process.env['KINLEDGER_SCREENSHOTS'];
const LOOKS = [
  { theme: 'light', size: DESKTOP, as: 'desktop-light' },
  { theme: 'dark', size: TABLET, as: 'tablet-dark' },
  ...(PICTURES
    ? ([
        { theme: 'dark', size: DESKTOP, as: 'desktop-dark' },
        { theme: 'light', size: TABLET, as: 'tablet-light' },
      ] as const)
    : []),
] as const;

/** Every page says while it is being read; quicker to see than a network that has been silent for half a second. */
const NOTHING_BEING_READ = `![...document.querySelectorAll('[role=status]')].some((one) => /^(Reading|Opening) /u.test(one.textContent))`;

describe('every page', () => {
  let plant: BrowserPlant;
  const desks = new Map<string, Desk>();
  beforeAll(async () => {
    plant = await startBrowserPlant();
    if (PICTURES) mkdirSync(PICTURES, { recursive: true });
  });
  afterAll(() => plant.stop());

  const deskOf = async (person: string | null): Promise<Desk> => {
    const desk = desks.get(person ?? '') ?? (await plant.desk(person));
    desks.set(person ?? '', desk);
    return desk;
  };

  it.each(PAGES.map((page) => [page.name, page] as const))(
    '%s: axe finds nothing in light or dark, nothing runs out of it, all targets are large enough, the console is silent',
    async (name, { path, person }: PageVisit) => {
      const desk = await deskOf(person);
      const { page } = desk;
      const before = desk.faults.length;
      await page.setViewportSize(DESKTOP);
      await page.emulateMedia({ colorScheme: 'light' });
      await page.goto(path);
      await page.locator('h1').first().waitFor();
      await page.waitForFunction(NOTHING_BEING_READ);
      for (const { theme, size, as } of LOOKS) {
        await page.emulateMedia({ colorScheme: theme });
        await page.setViewportSize(size);
        await page.waitForTimeout(50); // pictures take the new width
        if (PICTURES) await page.screenshot({ path: join(PICTURES, `${name}-${as}.png`), fullPage: true });
        expect(await axeFaults(page), as).toEqual([]);
        expect(await runsOut(page), as).toBe(0);
        expect(await smallTargets(page), as).toEqual([]);
      }
      expect(desk.faults.slice(before)).toEqual([]);
    },
  );
});
