import type { RibbonInput } from '../../../shared/ribbon-layout.js';
import { writtenKind } from './ribbon-parts.js';

/** Kinds whose look wants a word. */
const TOLD = ['on-hand', 'retain', 'scrap', 'quarantine', 'not-accepted', 'held', 'nonconforming'];

/** How each kind of strip is drawn: by its edge and its hatching, not by colour alone. */
export function RibbonLegend({ input }: { input: RibbonInput }) {
  const kinds = new Set([...input.above, ...input.below].flatMap(({ parts }) => parts.map(({ kind }) => kind)));
  const affected = (input.affected ?? []).length > 0;
  const shown = TOLD.filter((kind) => kinds.has(kind));
  if (shown.length === 0 && !affected) return null;
  return (
    <ul className="ribbon-legend" aria-label="How it is drawn">
      {affected ? (
        <li>
          <i className="swatch affected" aria-hidden="true" /> affected
        </li>
      ) : null}
      {shown.map((kind) => (
        <li key={kind}>
          <i className={`swatch ${kind}`} aria-hidden="true" /> {writtenKind(kind)}
        </li>
      ))}
    </ul>
  );
}
