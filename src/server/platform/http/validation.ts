import { BadRequestException, type PipeTransform, ValidationPipe } from '@nestjs/common';
import type { ValidationError, ValidatorOptions } from 'class-validator';
import { listsForObjects } from './nesting.js';

/** Where a value is no list or number at all, what its length or size should be is no news. */
const KINDS = ['isArray', 'isInt', 'isString', 'isBoolean'];

function ownFaults(constraints: Readonly<Record<string, string>>): string[] {
  const kind = KINDS.find((name) => name in constraints);
  return kind === undefined ? Object.values(constraints) : [constraints[kind]!];
}

/** Every fault of a body with a JSON pointer to it. */
function shapeFaults(errors: readonly ValidationError[], path = ''): { code: string; detail: string; pointer: string }[] {
  return errors.flatMap((error) => {
    const pointer = `${path}/${error.property}`;
    const own = ownFaults(error.constraints ?? {}).map((detail) => ({ code: 'shape', detail, pointer }));
    return [...own, ...shapeFaults(error.children ?? [], pointer)];
  });
}

/** No command nests deeper; what does is left for the check of its shape to refuse. */
const DEEPEST = 32;

function withoutNulls(value: unknown, depth = 0): unknown {
  if (typeof value !== 'object' || value === null || depth > DEEPEST) return value;
  if (Array.isArray(value)) return value.map((member) => withoutNulls(member, depth + 1));
  if (Object.getPrototypeOf(value) !== Object.prototype) return value;
  const said = Object.entries(value).filter(([, member]) => member !== null);
  return Object.fromEntries(said.map(([name, member]) => [name, withoutNulls(member, depth + 1)]));
}

/** A member that is null is one that was left out: answers show what is not known as null, and what was answered can be sent back. */
export const nullIsLeftOut: PipeTransform = {
  transform: (value, { type }) => (type === 'body' ? withoutNulls(value) : value),
};

class ShapeCheck extends ValidationPipe {
  protected override async validate(body: object, options?: ValidatorOptions): Promise<ValidationError[]> {
    return [...(await super.validate(body, options)), ...listsForObjects(body)];
  }
}

/** Says "this is not a delivery"; whether it may be booked is for decide. */
export const validation = (): ValidationPipe =>
  new ShapeCheck({
    whitelist: true,
    forbidNonWhitelisted: true,
    transform: true,
    transformOptions: { exposeDefaultValues: true },
    exceptionFactory: (errors) => new BadRequestException({ reasons: shapeFaults(errors) }),
  });
