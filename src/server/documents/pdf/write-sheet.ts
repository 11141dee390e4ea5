import { finished } from 'node:stream/promises';
import type { Writable } from 'node:stream';
import type { Sheet } from '../sheet.model.js';
import { setBlock } from './blocks.js';
import { BlankCanvas, type Canvas } from './canvas.js';
import { Faces } from './faces.js';
import { Flow, type PagePlan } from './flow.js';
import { InkCanvas } from './ink.js';

/**
 * Writes a sheet as a tagged PDF and ends the stream. Equal sheets give equal bytes.
 * @returns how many pages it has
 * @throws what the stream fails with; a reader that goes away is such a failure
 */
export async function writeSheetPdf(sheet: Sheet, out: Writable): Promise<{ pages: number }> {
  const faces = new Faces();
  const plan = await setSheet(sheet, new BlankCanvas(), faces, null);
  const done = finished(out);
  // Waited for below; should setting fail first, its error is the one to report.
  done.catch(() => undefined);
  try {
    const ink = new InkCanvas(sheet, faces, out);
    await setSheet(sheet, ink, faces, plan);
    ink.end();
  } catch (error) {
    out.destroy(error instanceof Error ? error : new Error(String(error)));
    throw error;
  }
  await done;
  return { pages: plan.pages };
}

async function setSheet(sheet: Sheet, canvas: Canvas, faces: Faces, plan: PagePlan | null): Promise<PagePlan> {
  const flow = new Flow(canvas, faces, sheet, plan);
  for (const [i, block] of sheet.blocks.entries()) await setBlock(flow, block, sheet.blocks.slice(i + 1));
  if (flow.page === 0) flow.turn();
  return { pages: flow.page, headingPages: flow.headingPages };
}
