import { countPieces, parseSpans, subtractSpans } from '../../../shared/spans.js';
import { TextAreaField, TextField } from '../design/fields.js';
import type { FormValues } from '../design/form-values.js';
import type { Run } from './run.js';
import type { Typed } from './use-typed.js';

interface Loose {
  readonly item: string;
  readonly name: string;
  readonly count: number;
}

/** Components by serial of which pieces are charged that no unit was named for yet. */
function looseItems(run: Run): Loose[] {
  return run.components
    .filter(({ trackedBy }) => trackedBy === 'serial')
    .flatMap(({ item, name }) => {
      const count = run.charges
        .filter((charge) => charge.item === item && charge.pieces !== null && charge.pieces !== '')
        .reduce((sum, { pieces, into }) => {
          const told = into.flatMap(({ fromPieces }) => (fromPieces === null ? [] : parseSpans(fromPieces)));
          return sum + countPieces(subtractSpans(parseSpans(pieces ?? ''), told));
        }, 0);
      return count === 0 ? [] : [{ item, name, count }];
    });
}

/** Which serial went into which unit, where it was not said when it was charged. */
export function CloseFitted({ run, typed }: { run: Run; typed: Typed }) {
  return (
    <>
      {looseItems(run).map(({ item, name, count }, i) => (
        <fieldset className="form sheet" key={item}>
          <legend>
            {name}: {count} charged and in no unit yet
          </legend>
          <TextAreaField label="Serials, in the order of the units" rows={2} required {...typed.wired(`/fitted/${i}/serials`)} />
          <TextField label="Into units" code hint="As 1-40, one each." required {...typed.wired(`/fitted/${i}/intoPieces`)} />
        </fieldset>
      ))}
    </>
  );
}

export function fittedBody(run: Run, values: FormValues): { item: string; serials: string[]; intoPieces: string }[] | undefined {
  const loose = looseItems(run);
  if (loose.length === 0) return undefined;
  return loose.map(({ item }, i) => ({
    item,
    serials: values.codes(`/fitted/${i}/serials`),
    intoPieces: values.text(`/fitted/${i}/intoPieces`),
  }));
}
