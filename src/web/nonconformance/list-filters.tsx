import { writtenCount } from '../../../shared/written.js';
import type { View } from '../wire/client.js';
import { counted } from './amounts.js';
import { asTitle, type ReportState, SEVERITIES, type Severity, WAY } from './words.js';

export interface Filter {
  readonly text: string;
  readonly severity: Severity | '';
  readonly state: ReportState | '';
}

/** Whether a report is one that is looked for: every word somewhere in its code, requirement, lots, source or who raised it. */
export function matchesFilter(line: View<'ReportLineView'>, { text, severity, state }: Filter): boolean {
  if (severity !== '' && line.severity !== severity) return false;
  if (state !== '' && line.state !== state) return false;
  const said = [line.report, line.requirement, line.source, line.sourceCode ?? '', line.raisedBy, ...line.lots].join(' ').toLowerCase();
  return text
    .toLowerCase()
    .split(/\s+/u)
    .every((word) => said.includes(word));
}

const STATES: readonly ReportState[] = [...WAY, 'withdrawn'];

/** Narrows the lists as one types; the totals of the page stay those of all. */
export function Filters({
  filter,
  onFilter,
  shown,
  of,
}: {
  filter: Filter;
  onFilter: (filter: Filter) => void;
  shown: number;
  of: number;
}) {
  return (
    <search className="nc-filters no-print" aria-label="Filter the reports">
      <div className="field">
        <label htmlFor="filter-text">Code, words or lot</label>
        <input
          id="filter-text"
          type="search"
          value={filter.text}
          autoComplete="off"
          onChange={(event) => onFilter({ ...filter, text: event.target.value })}
        />
      </div>
      <div className="field">
        <label htmlFor="filter-severity">Severity</label>
        <select
          id="filter-severity"
          value={filter.severity}
          onChange={(event) => onFilter({ ...filter, severity: event.target.value as Filter['severity'] })}
        >
          <option value="">Every severity</option>
          {SEVERITIES.map((one) => (
            <option key={one} value={one}>
              {asTitle(one)}
            </option>
          ))}
        </select>
      </div>
      <div className="field">
        <label htmlFor="filter-state">State</label>
        <select
          id="filter-state"
          value={filter.state}
          onChange={(event) => onFilter({ ...filter, state: event.target.value as Filter['state'] })}
        >
          <option value="">Every state</option>
          {STATES.map((one) => (
            <option key={one} value={one}>
              {asTitle(one)}
            </option>
          ))}
        </select>
      </div>
      <p className="quiet" role="status">
        {shown === of ? counted(of, 'report') : `${writtenCount(shown)} of ${counted(of, 'report')}`}
      </p>
    </search>
  );
}
