import { ValidateBy } from 'class-validator';

/** Fields that only some kinds of a thing have, by kind: those it needs, and those it may have. A kind that is not named has none of them. */
export type FieldsOfKind = Readonly<Record<string, { readonly needs?: readonly string[]; readonly may?: readonly string[] }>>;

/**
 * For the field that says of which kind an object is: a field of another kind is refused rather than passed over, since whoever sent it
 * expects it to matter, and one that its kind needs is asked for.
 */
export const HasFieldsOfKind = (table: FieldsOfKind): PropertyDecorator =>
  ValidateBy({
    name: 'hasFieldsOfKind',
    validator: {
      validate: (kind, args) => fault(table, kind, args?.object) === null,
      defaultMessage: (args) => `${args?.property}: ${fault(table, args?.value, args?.object) ?? ''}`,
    },
  });

function fault(table: FieldsOfKind, kind: unknown, object: object | undefined): string | null {
  if (typeof kind !== 'string' || object === undefined) return null;
  const given = (field: string): boolean => (object as Readonly<Record<string, unknown>>)[field] !== undefined;
  const { needs = [], may = [] } = table[kind] ?? {};
  const missing = needs.filter((field) => !given(field));
  if (missing.length > 0) return `${kind} needs ${missing.join(', ')}`;
  const special = Object.values(table).flatMap((fields) => [...(fields.needs ?? []), ...(fields.may ?? [])]);
  const foreign = [...new Set(special)].filter((field) => given(field) && !needs.includes(field) && !may.includes(field));
  return foreign.length === 0 ? null : `${kind} has no ${foreign.join(', ')}`;
}
