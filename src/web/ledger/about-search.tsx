import { useState } from 'react';
import { useSearchParams } from 'wouter';
import { Entries } from '../design/entries.js';
import { Section } from '../design/page.js';

/** What entries can be about, by the names of the API, in the words of the plant. */
const KINDS = [
  ['lot', 'lot'],
  ['run', 'run'],
  ['delivery', 'delivery'],
  ['shipment', 'shipment'],
  ['return', 'return'],
  ['hold', 'hold'],
  ['inspection', 'inspection'],
  ['report', 'nonconformance report'],
  ['recall', 'recall'],
  ['instrument', 'instrument'],
  ['item', 'item'],
  ['party', 'party'],
  ['vessel', 'vessel'],
  ['line', 'line'],
  ['location', 'location'],
  ['document', 'stock document or paper'],
  ['person', 'person'],
  ['entry', 'entry that was corrected'],
] as const;
type About = (typeof KINDS)[number][0];

/** Every entry about one record, by its code. */
export function AboutSearch() {
  const [asked, setAsked] = useSearchParams();
  const about = KINDS.find(([kind]) => asked.has(kind))?.[0] ?? 'lot';
  const code = asked.get(about) ?? '';
  const [kind, setKind] = useState<About>(about);
  return (
    <>
      <Section title="Search" note="every entry about one record" screenOnly>
        <form
          className="row end"
          role="search"
          aria-label="Entries about one record"
          onSubmit={(event) => {
            event.preventDefault();
            const text = new FormData(event.currentTarget).get('code');
            if (typeof text === 'string' && text.trim() !== '') setAsked(new URLSearchParams({ [kind]: text.trim() }));
          }}
        >
          <div className="field">
            <label htmlFor="about-kind">About a</label>
            <select
              id="about-kind"
              value={kind}
              onChange={(event) => setKind(KINDS.find(([one]) => one === event.target.value)?.[0] ?? 'lot')}
            >
              {KINDS.map(([one, says]) => (
                <option key={one} value={one}>
                  {says}
                </option>
              ))}
            </select>
          </div>
          <div className="field">
            <label htmlFor="about-code">with the code</label>
            <input id="about-code" name="code" className="code" defaultValue={code} autoComplete="off" spellCheck={false} />
          </div>
          <button type="submit">Find its entries</button>
        </form>
      </Section>
      {code === '' ? null : <Entries about={{ [about]: code }} />}
    </>
  );
}
