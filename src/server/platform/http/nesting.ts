import { getMetadataStorage, ValidationError, ValidationTypes } from 'class-validator';

/**
 * Every list that stands where one object is due. The validator looks at what is in a list whether or not a list was asked for, so it
 * finds nothing wrong with an empty one, nor with one whose members are right; what reads the object then finds none of its fields.
 * @param body an instance of a class whose fields are decorated
 */
export function listsForObjects(body: object): ValidationError[] {
  const nested = getMetadataStorage()
    .getTargetValidationMetadatas(body.constructor, '', false, false)
    .filter(({ type }) => type === ValidationTypes.NESTED_VALIDATION);
  return nested.flatMap(({ propertyName, each }) => {
    const value = (body as Readonly<Record<string, unknown>>)[propertyName];
    if (!each) return insteadOf(propertyName, value);
    const children = Array.isArray(value) ? value.flatMap((member, i) => insteadOf(String(i), member)) : [];
    return children.length === 0 ? [] : [faultAt(propertyName, { children })];
  });
}

function insteadOf(property: string, value: unknown): ValidationError[] {
  if (Array.isArray(value)) return [faultAt(property, { constraints: { notList: 'must be one object, not a list' } })];
  if (typeof value !== 'object' || value === null) return [];
  const children = listsForObjects(value);
  return children.length === 0 ? [] : [faultAt(property, { children })];
}

const faultAt = (property: string, found: Pick<ValidationError, 'constraints' | 'children'>): ValidationError =>
  Object.assign(new ValidationError(), { property, ...found });
