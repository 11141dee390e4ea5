import { useEffect, useState } from 'react';
import { useItems, useLocations, useParties } from '../design/choices.js';
import type { Choice } from '../design/code-field.js';
import { CLASSES, type LotFilters, ORIGINS, SORTS, STATUSES } from './lot-filters.js';

const PAUSE_MS = 250;

const asChoices = (all: readonly { readonly value: string; readonly says: string }[]): Choice[] =>
  all.map(({ value, says }) => ({ code: value, says }));

/** The box to find by any code, and what the list can be narrowed to. Changes take effect at once. */
export function LotFilterForm({
  filters,
  onChange,
}: {
  filters: LotFilters;
  onChange: (change: Partial<Record<keyof LotFilters, string>>) => void;
}) {
  const items = useItems();
  const suppliers = useParties('supplier');
  const locations = useLocations();
  return (
    <form className="lot-filters no-print" role="search" aria-label="Lots" onSubmit={(event) => event.preventDefault()}>
      <QueryBox query={filters.query ?? ''} onChange={(query) => onChange({ query })} />
      <Narrow label="Item" none="all items" choices={items} value={filters.item} onChange={(item) => onChange({ item })} />
      <Narrow
        label="Class"
        none="all classes"
        choices={asChoices(CLASSES)}
        value={filters.class}
        onChange={(value) => onChange({ class: value })}
        wordsOnly
      />
      <Narrow
        label="Supplier"
        none="all suppliers"
        choices={suppliers}
        value={filters.supplier}
        onChange={(supplier) => onChange({ supplier })}
      />
      <Narrow
        label="Origin"
        none="any origin"
        choices={asChoices(ORIGINS)}
        value={filters.origin}
        onChange={(origin) => onChange({ origin })}
        wordsOnly
      />
      <Narrow
        label="On hand at"
        none="anywhere or gone"
        choices={locations}
        value={filters.location}
        onChange={(location) => onChange({ location })}
      />
      <Narrow
        label="Status"
        none="any status"
        choices={asChoices(STATUSES)}
        value={filters.status}
        onChange={(status) => onChange({ status })}
        wordsOnly
      />
      <Narrow
        label="Order"
        none={null}
        choices={asChoices(SORTS)}
        value={filters.sort ?? '-bornAt'}
        onChange={(sort) => onChange({ sort: sort === '-bornAt' ? '' : sort })}
        wordsOnly
      />
    </form>
  );
}

/** Asks when the typing pauses, so that not every letter is a question. */
function QueryBox({ query, onChange }: { query: string; onChange: (query: string) => void }) {
  const [typed, setTyped] = useState(query);
  const [shown, setShown] = useState(query);
  if (shown !== query) {
    setShown(query);
    if (typed.trim() !== query) setTyped(query);
  }
  useEffect(() => {
    if (typed.trim() === query) return undefined;
    const timer = setTimeout(() => onChange(typed), PAUSE_MS);
    return () => clearTimeout(timer);
  });
  return (
    <div className="field wide">
      <label htmlFor="lot-query">Lot, supplier’s lot or serial</label>
      <input
        id="lot-query"
        type="search"
        className="code"
        value={typed}
        autoComplete="off"
        spellCheck={false}
        placeholder="part of a code"
        onChange={(event) => setTyped(event.target.value)}
      />
    </div>
  );
}

function Narrow({
  label,
  none,
  choices,
  value = '',
  onChange,
  wordsOnly = false,
}: {
  label: string;
  /** The words for not narrowing by it; null: one of the choices holds. */
  none: string | null;
  choices: readonly Choice[];
  value: string | undefined;
  onChange: (value: string) => void;
  wordsOnly?: boolean;
}) {
  const id = `lots-${label.toLowerCase().replaceAll(' ', '-')}`;
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select id={id} value={value} onChange={(event) => onChange(event.target.value)}>
        {none === null ? null : <option value="">{none}</option>}
        {value !== '' && !choices.some(({ code }) => code === value) ? <option value={value}>{value}</option> : null}
        {choices.map(({ code, says }) => (
          <option key={code} value={code}>
            {wordsOnly ? says : `${code} ${says}`}
          </option>
        ))}
      </select>
    </div>
  );
}
